import type { Job } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { decibels } from '../../../job/format/quantity.ts';
import type { RecordOf } from '../../../job/records.ts';
import { PartRecords } from '../parts/PartRecords.tsx';

type Kind = 'level' | 'polarity' | 'arrival';
type BalanceRecord = RecordOf<Kind>;

function words(record: BalanceRecord): string {
  if (record.kind === 'level') {
    const { way, worstDifferenceDb, weighting } = record.result;
    const by = way === 'wire' ? 'by wire' : `by microphone, weighting ${weighting}`;
    return `Levels ${by}: ${worstDifferenceDb === null ? 'no pair' : `left against right ${decibels(worstDifferenceDb)} at worst`}`;
  }
  if (record.kind === 'polarity') {
    const { channels } = record.result;
    const normal = channels.filter((one) => one.verdict === 'normal').length;
    return `Polarity: ${normal} of ${channels.length} the right way round`;
  }
  return `Arrival: ${fixed(record.result.worstDifferenceMs, 2)} ms from first to last`;
}

/** What was accepted here. */
export function BalanceRecords({ job, kinds }: { job: Job; kinds: readonly Kind[] }) {
  const records = job.records.filter((record): record is BalanceRecord =>
    (kinds as readonly string[]).includes(record.kind),
  );
  return <PartRecords records={records} words={words} />;
}
