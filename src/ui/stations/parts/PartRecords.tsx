import type { JobRecord } from '../../../job/records.ts';
import { RecordedList } from './RecordedList.tsx';

/** A record that names what was found wrong. */
type FindingRecord = JobRecord & { result: { findings: readonly { sentence: string }[] } };

/** Every accepted result of one part. @param records oldest first */
export function PartRecords<R extends FindingRecord>({
  records,
  words,
}: {
  records: readonly R[];
  words: (record: R) => string;
}) {
  return (
    <section className="sheet" aria-labelledby="part-records-title">
      <h2 id="part-records-title">Recorded</h2>
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
