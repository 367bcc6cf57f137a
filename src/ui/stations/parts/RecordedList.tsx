import type { ReactNode } from 'react';
import type { JobRecord } from '../../../job/records.ts';
import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../../marks/mark.ts';

export interface RecordedLine {
  mark: Mark;
  words: ReactNode;
  /** Beside the date. */
  foot?: ReactNode;
}

/**
 * Every accepted record of one kind of thing, newest first; none is ever overwritten.
 *
 * @param records oldest first, as the job has them
 */
export function RecordedList<R extends JobRecord>({
  label,
  nothing,
  records,
  line,
}: {
  label: string;
  nothing: string;
  records: readonly R[];
  line: (record: R) => RecordedLine;
}) {
  if (records.length === 0) return <p className="soft">{nothing}</p>;
  const newestFirst = records.toReversed();
  return (
    <ol className="plainlist records" aria-label={label}>
      {newestFirst.map((record, index) => {
        const { mark, words, foot } = line(record);
        const isNewest = newestFirst.findIndex(({ kind }) => kind === record.kind) === index;
        return (
          <li key={record.id} className={isNewest ? 'newest' : undefined} data-kind={record.kind}>
            <MarkSign mark={mark} />
            <p>
              {words}
              <span className="unseen"> ({MARK_WORDS[mark]})</span>
              <br />
              <span className="small soft">
                {moment(record.at)}
                {foot !== undefined && <> · {foot}</>}
              </span>
            </p>
          </li>
        );
      })}
    </ol>
  );
}
