import type { JudgedSide, MeasuredChannel } from '../../../procedure/crossover/crossover.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { errorWords, foundLine, sideMark, wantedLine } from './side-words.ts';

const NAMES = { 'high-pass': 'High-pass', 'low-pass': 'Low-pass' } as const;

function verdict(side: JudgedSide): string {
  if (side.problems.length > 0) return 'not as wanted';
  if (side.wantedHz === null) return 'reported only';
  return side.open === null ? 'as wanted' : 'could not be told';
}

/** Both ends of the band: found, wanted, how far apart. An open end without a filter is left out. */
export function SideList({ measured }: { measured: MeasuredChannel }) {
  const { highPass, lowPass } = measured.sides;
  const shown = [highPass, lowPass].filter((side) => side.wantedHz !== null || side.found !== null);
  if (shown.length === 0) return <p className="soft">No filter is wanted here, and none was found.</p>;
  return (
    <ul className="plainlist sides" aria-label="Filters found">
      {shown.map((side) => (
        <li key={side.kind}>
          <MarkSign mark={sideMark(side)} />
          <p>
            <b>
              {NAMES[side.kind]} {foundLine(side)}
            </b>{' '}
            {errorWords(side.errorPercent)}
            <br />
            <span className="small soft">
              {verdict(side)}: {wantedLine(side)}
            </span>
          </p>
        </li>
      ))}
    </ul>
  );
}
