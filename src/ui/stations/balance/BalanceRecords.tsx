import type { Job } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { decibels } from '../../../job/format/quantity.ts';
import type { RecordOf } from '../../../job/records.ts';
import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../../marks/mark.ts';

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

/** Of records that stand newest first. */
function isNewestOfKind(records: readonly BalanceRecord[], index: number): boolean {
  const kind = records[index]?.kind;
  return records.findIndex((one) => one.kind === kind) === index;
}

/** What was accepted here, newest first; none is ever overwritten. */
export function BalanceRecords({ job, kinds }: { job: Job; kinds: readonly Kind[] }) {
  const records = job.records
    .filter((record): record is BalanceRecord => (kinds as readonly string[]).includes(record.kind))
    .reverse();
  return (
    <section className="sheet" aria-labelledby="balance-records-title">
      <h2 id="balance-records-title">Recorded</h2>
      {records.length === 0 ? (
        <p className="soft">Nothing recorded here yet.</p>
      ) : (
        <ol className="plainlist records" aria-label="Accepted results">
          {records.map((record, index) => {
            const mark: Mark = record.result.findings.length > 0 ? 'out-of-tolerance' : 'done';
            return (
              <li
                key={record.id}
                className={isNewestOfKind(records, index) ? 'newest' : undefined}
                data-kind={record.kind}
              >
                <MarkSign mark={mark} />
                <p>
                  <b>{words(record)}</b> {record.result.findings.map((finding) => finding.sentence).join(' ')}
                  <span className="unseen"> ({MARK_WORDS[mark]})</span>
                  <br />
                  <span className="small soft">{moment(record.at)}</span>
                </p>
              </li>
            );
          })}
        </ol>
      )}
    </section>
  );
}
