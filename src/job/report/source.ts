/** How far up the radio is clean, whether its load is right, its sides, and how it is turned on. */
import {
  amplifierCeiling,
  type Ceiling,
  type FirstToGive,
  firstToGive,
  sourceCeiling,
  sourceRecordFor,
} from '../ceilings.ts';
import type { Job } from '../document.ts';
import { fixed, NOTHING } from '../format/number.ts';
import { dbfs, percent, volts } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { measured, moment, plain } from './figures.ts';
import { newestGains } from './gain.ts';
import { standingCell } from './marks.ts';
import type { Cell, ReportBlock, ReportChart, ReportSection } from './model.ts';
import { channelName, newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';
import { linearRange } from './ranges.ts';
import { loadBlocks, sidesBlocks, turnOnBlocks } from './source-parts.ts';

type Source = RecordOf<'source'>;

function whereWords({ result }: Source): string {
  return `${result.side} side, at the ${result.point === 'radio' ? 'radio' : 'converter'}`;
}

function ceilingBlock(job: Job, record: Source): ReportBlock {
  const { result } = record;
  const top = result.cleanToTop ? ', the top of the range' : '';
  return factsOf([
    ['Where', `${whereWords(record)}, ${moment(record.at)}`],
    ['Highest clean step', `${result.highestCleanStep} of ${result.volumeSteps}${top}`],
    [
      'Ceiling there',
      `${measured(result.ceilingVolts, result.ceilingVoltsUncertainty, { unit: 'V', decimals: 2 })}, ${dbfs(result.ceilingDbfs)} at the input`,
    ],
    ['Knee', volts(result.kneeVolts)],
    ['Clips first', result.clippedTone ?? 'nothing did'],
    [
      'Bass is cut',
      result.bassCutFromStep === null
        ? 'at no step'
        : `from step ${result.bassCutFromStep}, by ${plain(result.bassCutAtCeilingDb, 'dB', 1)} at the highest clean step`,
    ],
    [
      'Held back without clipping',
      result.limitsFromStep === null ? 'at no step' : `from step ${result.limitsFromStep}`,
    ],
    ['State', standingCell(job, record)],
  ]);
}

function stepRow(step: Source['result']['steps'][number]): Cell[] {
  return [
    `${step.step}`,
    dbfs(step.levelDbfs),
    volts(step.volts),
    percent(step.thdPercent),
    step.verdict,
    plain(step.overdriveDb, 'dB', 2),
    plain(step.bassDb, 'dB', 1),
    plain(step.trebleDb, 'dB', 1),
  ];
}

function stepChart(record: Source): ReportChart[] {
  const points = record.result.steps.map(({ step, levelDbfs }) => ({ x: step, y: levelDbfs }));
  if (points.length < 2) return [];
  const { highestCleanStep } = record.result;
  return [
    {
      type: 'chart',
      title: `Level against volume step, ${whereWords(record)}`,
      words: `Level of the middle tone at ${points.length} volume steps; clean up to step ${highestCleanStep}.`,
      x: { scale: 'linear', title: 'volume step', ...linearRange(points.map(({ x }) => x)) },
      y: { scale: 'linear', title: 'dBFS at the input', ...linearRange(points.map(({ y }) => y)) },
      series: [{ name: 'middle tone', line: 'dots', points }],
      marks: [{ axis: 'x', at: highestCleanStep, words: `highest clean step ${highestCleanStep}` }],
    },
  ];
}

function ceilingWords(ceiling: Ceiling | null): string {
  if (ceiling === null) return 'not told';
  return `${ceiling.isAtLeast ? 'at least ' : ''}${fixed(ceiling.toneDbfs, 1)} dBFS (${volts(ceiling.volts)})`;
}

function firstWords(first: FirstToGive | null): string {
  if (first === null || first.first === null) return 'not told';
  if (first.first === 'neither') return 'neither can be reached';
  if (first.first === 'both') return 'both together';
  const name = first.first === 'source' ? 'radio' : 'amplifier';
  return `${name}, ${first.isAtLeast ? 'at least ' : ''}${fixed(first.byDb, 1)} dB before the other`;
}

/** All ceilings on one ruler: the level of what is played that reaches them. */
function ceilingRows(job: Job): Cell[][] {
  return newestGains(job).flatMap((gain) => {
    const channel = job.channels.find(({ id }) => id === gain.result.channelId);
    if (channel === undefined) return [];
    const record = sourceRecordFor(channel, job.records);
    const step = gain.conditions.volumeStep;
    const source = record === null || step === null ? null : sourceCeiling(record, step);
    const amplifier = amplifierCeiling(gain);
    const first = source === null || amplifier === null ? null : firstToGive(source, amplifier);
    return [
      [
        channelName(job, channel.id),
        step === null ? NOTHING : `${step}`,
        ceilingWords(source),
        ceilingWords(amplifier),
        firstWords(first),
      ],
    ];
  });
}

export function sourceSection(job: Job): ReportSection {
  const records = newestOf(job, 'source', ({ result }) => `${result.point} ${result.side}`);
  return {
    id: 'source',
    heading: 'The radio: ceiling, load, sides',
    blocks: [
      ...records.flatMap((record) => [
        ceilingBlock(job, record),
        ...tableOf(
          `Volume steps, ${whereWords(record)}`,
          ['Step', '#Level', '#Volts', '#THD', 'Tone was', '#Overdrive', '#Bass', '#Treble'],
          record.result.steps.map(stepRow),
        ),
        ...stepChart(record),
      ]),
      ...tableOf(
        'Which stage gives up first: level of a played sine that reaches its ceiling',
        ['Channel', '#Volume step', '#Radio', '#Amplifier', 'First'],
        ceilingRows(job),
      ),
      ...loadBlocks(job),
      ...sidesBlocks(job),
      ...turnOnBlocks(job),
    ],
  };
}
