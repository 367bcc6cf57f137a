import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../../marks/mark.ts';
import type { PartRecord } from './source-parts.ts';

/** Every accepted result of one part, newest first; none is ever overwritten. */
export function PartRecords<R extends PartRecord>({
  records,
  words,
}: {
  records: readonly R[];
  words: (record: R) => string;
}) {
  return (
    <section className="sheet" aria-labelledby="part-records-title">
      <h2 id="part-records-title">Recorded</h2>
      {records.length === 0 ? (
        <p className="soft">Nothing recorded here yet.</p>
      ) : (
        <ol className="plainlist records" aria-label="Accepted results">
          {records.map((record, index) => {
            const mark: Mark = record.result.findings.length > 0 ? 'out-of-tolerance' : 'done';
            return (
              <li key={record.id} className={index === 0 ? 'newest' : undefined}>
                <MarkSign mark={mark} />
                <p>
                  <b>{words(record)}</b>{' '}
                  {mark === 'done' ? '' : record.result.findings.map(({ sentence }) => sentence).join(' ')}
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
