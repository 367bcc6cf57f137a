import type { Job } from '../../../../job/document.ts';
import type { RecordOf } from '../../../../job/records.ts';
import { moment } from '../../../format/moment.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../../../marks/mark.ts';

function pointWords(job: Job, { result }: RecordOf<'check'>): string {
  const names = result.at
    .filter((point) => point !== 'none')
    .map((point) =>
      point === 'cabin' ? 'the cabin' : (job.channels.find(({ id }) => id === point)?.name ?? point),
    );
  return names.join(', ');
}

/** Every accepted check, newest first; none is ever overwritten. */
export function CheckRecords({ job }: { job: Job }) {
  const records = job.records.filter((one): one is RecordOf<'check'> => one.kind === 'check').reverse();
  if (records.length === 0) return null;
  return (
    <section className="sheet" aria-labelledby="check-records-title">
      <h2 id="check-records-title">Recorded</h2>
      <ol className="plainlist records" aria-label="Accepted results">
        {records.map((record, index) => {
          const mark: Mark = record.result.pass ? 'done' : 'out-of-tolerance';
          return (
            <li key={record.id} className={index === 0 ? 'newest' : undefined}>
              <MarkSign mark={mark} />
              <p>
                <b>
                  {record.result.pass ? 'Passed' : 'Not passed'}, at {pointWords(job, record)}.
                </b>{' '}
                {record.result.faults.map(({ sentence }) => sentence).join(' ')}
                <span className="unseen"> ({MARK_WORDS[mark]})</span>
                <br />
                <span className="small soft">{moment(record.at)}</span>
              </p>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
