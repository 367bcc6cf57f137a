/** Whether the measuring input could be believed. */
import type { Job } from '../document.ts';
import { fixed } from '../format/number.ts';
import { dbfs } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { measured, moment, plain } from './figures.ts';
import { standingCell } from './marks.ts';
import type { ReportBlock, ReportSection } from './model.ts';
import { newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

const WAYS = { wire: 'by wire', air: 'through the air' } as const;

function blocksOf(job: Job, record: RecordOf<'input'>): ReportBlock[] {
  const { way, verdict, toneHz, clockPpm, steps, stepErrorsDb, ...noise } = record.result;
  const rows = steps.map((step, index) => [
    `${index + 1}`,
    dbfs(step.askedDbfs),
    measured(step.levelDbfs, step.uncertaintyDb, { unit: 'dBFS', decimals: 2 }),
    // The first step is what the others are held against.
    index === 0 ? '' : plain(stepErrorsDb[index - 1] ?? null, 'dB', 2),
    plain(step.creepDb, 'dB', 2),
  ]);
  return [
    factsOf([
      ['Input', `${record.conditions.input ?? 'not noted'}, ${WAYS[way]}`],
      ['Verdict', verdict === 'honest' ? 'honest: it hears what was played' : 'not honest'],
      ['State', standingCell(job, record)],
      ['Measured', moment(record.at)],
      ['Tone', `${fixed(toneHz, 1)} Hz; player’s clock against the input’s ${fixed(clockPpm, 1)} ppm`],
      ['Noise in a pause', dbfs(noise.noiseInPauseDbfs)],
      ['Noise under the tone', dbfs(noise.noiseUnderToneDbfs)],
      ['Band ends at', noise.cutOffHz === null ? 'the top of the band' : `${fixed(noise.cutOffHz, 0)} Hz`],
    ]),
    ...tableOf(
      `Steps of a tone, ${WAYS[way]}`,
      ['Step', '#Played', '#Read', '#Step read less step played', '#Crept while held'],
      rows,
    ),
  ];
}

export function inputSection(job: Job): ReportSection {
  const records = newestOf(job, 'input', ({ result }) => result.way);
  return {
    id: 'input',
    heading: 'Honesty of the measuring input',
    blocks: records.flatMap((record) => blocksOf(job, record)),
  };
}
