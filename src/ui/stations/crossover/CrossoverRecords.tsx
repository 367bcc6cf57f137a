import type { Job, JobChannel } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { crossoverRecordsOf } from '../../session/crossover-progress.ts';
import { errorWords, foundLine, wantedLine } from './side-words.ts';

type Result = RecordOf<'crossover'>['result'];

const REFERENCES = {
  'input-plug': 'reference at the input plug',
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

/** A hole beside a neighbour counts as well, though the channel's own filters be right. */
function isRight({ inside, findings }: Result): boolean {
  return inside && findings.length === 0;
}

/** Every accepted sweep of one channel, newest first; none is ever overwritten. */
export function CrossoverRecords({ job, channel }: { job: Job; channel: JobChannel }) {
  const records = [...crossoverRecordsOf(job, channel.id)].reverse();
  if (records.length === 0) return <p className="soft">Nothing accepted on this channel yet.</p>;
  return (
    <ol className="plainlist records" aria-label="Accepted filters">
      {records.map(({ id, at, result, conditions }, index) => (
        <li key={id} className={index === 0 ? 'newest' : undefined}>
          <MarkSign mark={isRight(result) ? 'done' : 'out-of-tolerance'} />
          <p>
            <b>{isRight(result) ? 'As wanted' : 'Out of tolerance'}</b>
            {sideLines(result).map((line) => (
              <span key={line}>
                <br />
                {line}
              </span>
            ))}
            {result.findings.map(({ sentence }) => (
              <span key={sentence}>
                <br />
                {sentence}
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
