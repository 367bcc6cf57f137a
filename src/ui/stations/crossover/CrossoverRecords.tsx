import type { Job, JobChannel } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import { moment } from '../../format/quantity.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { crossoverRecordsOf } from '../../session/crossover-progress.ts';
import { errorWords, foundLine, wantedLine } from './side-words.ts';

type Result = RecordOf<'crossover'>['result'];

const REFERENCES = {
  converter: 'reference at the converter',
  'filters-off': 'reference with the filters off',
} as const;

function sideLines({ highPass, lowPass }: Result): string[] {
  return [
    { name: 'High-pass', side: highPass },
    { name: 'Low-pass', side: lowPass },
  ].flatMap(({ name, side }) =>
    side.wantedHz === null && side.found === null
      ? []
      : [`${name} ${foundLine(side)} ${errorWords(side.errorPercent)}, wanted ${wantedLine(side)}`],
  );
}

/** Every accepted sweep of one channel, newest first; none is ever overwritten. */
export function CrossoverRecords({ job, channel }: { job: Job; channel: JobChannel }) {
  const records = [...crossoverRecordsOf(job, channel.id)].reverse();
  if (records.length === 0) return <p className="soft">Nothing accepted on this channel yet.</p>;
  return (
    <ol className="plainlist records" aria-label="Accepted filters">
      {records.map(({ id, at, result, conditions }, index) => (
        <li key={id} className={index === 0 ? 'newest' : undefined}>
          <MarkSign mark={result.inside ? 'done' : 'out-of-tolerance'} />
          <p>
            <b>{result.inside ? 'As wanted' : 'Out of tolerance'}</b>
            {sideLines(result).map((line) => (
              <span key={line}>
                <br />
                {line}
              </span>
            ))}
            <br />
            <span className="small soft">
              {moment(at)} · {result.reference === null ? 'no reference' : REFERENCES[result.reference.way]}
              {conditions.volumeStep !== null && <> · volume step {conditions.volumeStep}</>}
              {conditions.input !== null && <> · {conditions.input}</>}
            </span>
          </p>
        </li>
      ))}
    </ol>
  );
}
