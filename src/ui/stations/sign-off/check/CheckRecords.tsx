import type { Job } from '../../../../job/document.ts';
import type { RecordOf } from '../../../../job/records.ts';
import { RecordedList } from '../../parts/RecordedList.tsx';

function pointWords(job: Job, { result }: RecordOf<'check'>): string {
  const names = result.at
    .filter((point) => point !== 'none')
    .map((point) =>
      point === 'cabin' ? 'the cabin' : (job.channels.find(({ id }) => id === point)?.name ?? point),
    );
  return names.join(', ');
}

/** Every accepted check. */
export function CheckRecords({ job }: { job: Job }) {
  const records = job.records.filter((one): one is RecordOf<'check'> => one.kind === 'check');
  if (records.length === 0) return null;
  return (
    <section className="sheet" aria-labelledby="check-records-title">
      <h2 id="check-records-title">Recorded</h2>
      <RecordedList
        label="Accepted results"
        nothing="No check was accepted yet."
        records={records}
        line={(record) => ({
          mark: record.result.pass ? 'done' : 'out-of-tolerance',
          words: (
            <>
              <b>
                {record.result.pass ? 'Passed' : 'Not passed'}, at {pointWords(job, record)}.
              </b>{' '}
              {record.result.faults.map(({ sentence }) => sentence).join(' ')}
            </>
          ),
          foot: record.result.recording,
        })}
      />
    </section>
  );
}
