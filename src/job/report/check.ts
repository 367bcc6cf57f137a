/** What one recording of the run track said of the vehicle. */
import type { Job } from '../document.ts';
import { fixed, NOTHING } from '../format/number.ts';
import { partFigure } from '../format/part-figure.ts';
import { volts } from '../format/quantity.ts';
import type { RecordOf } from '../records.ts';
import { measured, moment } from './figures.ts';
import { markCell, standingCell } from './marks.ts';
import type { Cell, MarkedCell, ReportBlock, ReportSection } from './model.ts';
import { channelName, newestOf } from './newest.ts';
import { factsOf, tableOf } from './parts.ts';

type Check = RecordOf<'check'>;
type Part = Check['result']['parts'][number];

const VERDICTS: Record<Part['verdict'], MarkedCell> = {
  passed: { text: 'passed', mark: 'done' },
  failed: { text: 'failed', mark: 'out-of-tolerance' },
  'not-judged': { text: 'not judged', mark: 'not-done' },
  missing: { text: 'not in the recording', mark: 'not-done' },
};

function pointName(job: Job, at: string): string {
  if (at === 'none') return 'not connected';
  return at === 'cabin' ? 'in the cabin, by microphone' : `${channelName(job, at)}, at its terminals`;
}

function clockWords({ markers }: Check['result']): string {
  return measured(markers.clockSkewPpm, markers.clockSkewUncertaintyPpm, { unit: 'ppm', decimals: 1 });
}

/** Limits are worded with the reading they belong to; only volts and decibels are for a reader. */
function limitWords({ limits }: Part): string {
  const { targetVolts, toleranceDb, balanceDb, cornerPercent, leastBelowTargetDb } = limits;
  const words = [
    typeof targetVolts === 'number' ? volts(targetVolts) : null,
    typeof toleranceDb === 'number' ? `±${fixed(toleranceDb, 1)} dB` : null,
    typeof balanceDb === 'number' ? `sides within ${fixed(balanceDb, 1)} dB` : null,
    typeof cornerPercent === 'number' ? `corners within ${fixed(cornerPercent, 0)} %` : null,
    typeof leastBelowTargetDb === 'number' ? `${fixed(leastBelowTargetDb, 0)} dB below the target` : null,
  ].filter((one) => one !== null);
  return words.length === 0 ? NOTHING : words.join(', ');
}

function partRow(job: Job, part: Part): Cell[] {
  return [
    part.id,
    part.channel === 'cabin' ? 'cabin' : channelName(job, part.channel),
    partFigure(part),
    limitWords(part),
    VERDICTS[part.verdict],
    part.why,
  ];
}

function blocksOf(job: Job, record: Check): ReportBlock[] {
  const { result, at } = record;
  const taken = `${result.recording}, ${moment(at)}`;
  return [
    factsOf([
      ['Recording', taken],
      ['Run track', result.track],
      ...result.at.map(
        (point, channel) => [`Recorded channel ${channel + 1}`, pointName(job, point)] as const,
      ),
      ['Recorder’s clock against the player’s', clockWords(result)],
      ['Outcome', markCell(result.pass ? 'done' : 'out-of-tolerance')],
      ['State', standingCell(job, record)],
    ]),
    ...tableOf(
      `Parts of the run track, ${taken}`,
      ['Part', 'Read at', '#Reading', 'Allowed', 'Result', 'Why'],
      result.parts.map((part) => partRow(job, part)),
    ),
  ];
}

/** The newest check at each set of points. */
export function checkSection(job: Job): ReportSection {
  const records = newestOf(job, 'check', ({ result }) => result.at.join());
  return {
    id: 'check',
    heading: 'Check by the run track',
    blocks: records.flatMap((record) => blocksOf(job, record)),
  };
}
