import { NOTHING, significant } from '../../../../job/format/number.ts';
import { COVERAGE, type LegJudgement } from '../../../../plan/supply/leg.ts';
import type { LegName, SupplyFigures } from '../../../../procedure/supply/supply.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import type { Mark } from '../../../marks/mark.ts';

const NAMES: Record<LegName, string> = { ground: 'Ground', positive: 'Supply wire' };

const VERDICTS: Record<LegJudgement['verdict'], { mark: Mark; words: string }> = {
  good: { mark: 'done', words: 'good' },
  poor: { mark: 'out-of-tolerance', words: 'poor' },
  'cannot-tell': { mark: 'under-way', words: 'cannot tell' },
};

const milliohms = (ohms: number | null) => (ohms === null ? NOTHING : significant(ohms * 1000, 2));

/** The verdict as sign and word, for programs as well. */
function Verdict({ leg, judged }: { leg: LegName; judged: LegJudgement }) {
  const { mark, words } = VERDICTS[judged.verdict];
  return (
    <output className="verdict" data-reading={`${leg}Verdict`} data-value={judged.verdict} data-state="valid">
      <MarkSign mark={mark} /> {words}
    </output>
  );
}

/** What each leg has, what its wire explains, and what is left. */
export function LegTable({ legs }: { legs: SupplyFigures['legs'] }) {
  const rows = (['ground', 'positive'] as const).flatMap((leg) => {
    const judged = legs[leg];
    return judged === null ? [] : [{ leg, judged }];
  });
  if (rows.length === 0) return null;
  return (
    <table className="leg-table">
      <caption className="unseen">Resistance of each leg, in milliohms</caption>
      <thead>
        <tr>
          <th scope="col">mΩ</th>
          <th scope="col" className="num">
            has
          </th>
          <th scope="col" className="num">
            wire
          </th>
          <th scope="col" className="num">
            rest
          </th>
          <th scope="col">is</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ leg, judged }) => (
          <tr key={leg}>
            <th scope="row">{NAMES[leg]}</th>
            <td className="num">
              {milliohms(Math.max(0, judged.ohms.value))}
              <br />
              <span className="soft">±{milliohms(COVERAGE * judged.ohms.uncertainty)}</span>
            </td>
            <td className="num">{milliohms(judged.wireOhms?.high ?? null)}</td>
            <td className="num">{milliohms(judged.restOhms)}</td>
            <td>
              <Verdict leg={leg} judged={judged} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
