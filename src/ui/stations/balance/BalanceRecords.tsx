import type { Job } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { decibels } from '../../../job/format/quantity.ts';
import type { RecordOf } from '../../../job/records.ts';
import { RecordedList } from '../parts/RecordedList.tsx';

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
  return (
    <section className="sheet" aria-labelledby="balance-records-title">
      <h2 id="balance-records-title">Recorded</h2>
      <RecordedList
        label="Accepted results"
        nothing="Nothing recorded here yet."
        records={records}
        line={(record) => ({
          mark: record.result.findings.length > 0 ? 'out-of-tolerance' : 'done',
          words: (
            <>
              <b>{words(record)}</b> {record.result.findings.map(({ sentence }) => sentence).join(' ')}
            </>
          ),
        })}
      />
    </section>
  );
}
