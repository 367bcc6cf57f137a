import type { Job, JobChannel } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import { crossoverRecordsOf } from '../../session/crossover-progress.ts';
import { type RecordedLine, RecordedList } from '../parts/RecordedList.tsx';
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

function footWords({ result, conditions }: RecordOf<'crossover'>): string {
  const { volumeStep, input } = conditions;
  return [
    result.reference === null ? 'no reference' : REFERENCES[result.reference.way],
    ...(volumeStep === null ? [] : [`volume step ${volumeStep}`]),
    ...(input === null ? [] : [input]),
  ].join(' · ');
}

function lineOf(record: RecordOf<'crossover'>): RecordedLine {
  const { result } = record;
  const lines = [...sideLines(result), ...result.findings.map(({ sentence }) => sentence)];
  return {
    mark: isRight(result) ? 'done' : 'out-of-tolerance',
    words: (
      <>
        <b>{isRight(result) ? 'As wanted' : 'Out of tolerance'}</b>
        {lines.map((line) => (
          <span key={line}>
            <br />
            {line}
          </span>
        ))}
      </>
    ),
    foot: footWords(record),
  };
}

/** Every accepted sweep of one channel. */
export function CrossoverRecords({ job, channel }: { job: Job; channel: JobChannel }) {
  return (
    <RecordedList
      label="Accepted filters"
      nothing="Nothing accepted on this channel yet."
      records={crossoverRecordsOf(job, channel.id)}
      line={lineOf}
    />
  );
}
