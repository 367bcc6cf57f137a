import type { FilterFinding, FittedFilter } from '../../dsp/filters/filter-fit.ts';
import type { FrequencyBand } from '../../dsp/response/channel-response.ts';
import type { CrossoverChannel, JudgedSide, JudgedSides, SideProblem, WantedSlope } from './crossover.ts';

type Kind = JudgedSide['kind'];

/** A corner is in sight where the data reach this far past it: even the gentlest filter has fallen 3 dB by then. */
const IN_SIGHT = 1.4;

/**
 * The wanted corner as the found figure is stated: where the alignment is open, the found one is the -3.01 dB point,
 * which a Linkwitz-Riley of order N has at `(sqrt 2 - 1)^(1/N)` of its corner (low-pass; high-pass the inverse).
 */
function likeWithLike(kind: Kind, wantedHz: number, wanted: WantedSlope | null, found: FittedFilter): number {
  if (found.alignment !== null || wanted?.alignment !== 'linkwitz-riley') return wantedHz;
  const ratio = (Math.SQRT2 - 1) ** (1 / wanted.order);
  return kind === 'low-pass' ? wantedHz * ratio : wantedHz / ratio;
}

function slopeProblems(wanted: WantedSlope | null, found: FittedFilter): SideProblem[] {
  if (wanted === null || found.order === null) return [];
  if (found.order < wanted.order) return ['order-low'];
  if (found.order > wanted.order) return ['order-high'];
  return found.alignment === null || found.alignment === wanted.alignment ? [] : ['alignment-other'];
}

function isInSight(kind: Kind, wantedHz: number, fitted: FrequencyBand): boolean {
  return kind === 'high-pass' ? fitted.lowHz * IN_SIGHT <= wantedHz : fitted.highHz >= wantedHz * IN_SIGHT;
}

interface Wanted {
  kind: Kind;
  wantedHz: number | null;
  wanted: WantedSlope | null;
}

function judgedSide(
  side: Wanted,
  finding: FilterFinding,
  fitted: FrequencyBand,
  tolerance: number,
): JudgedSide {
  const { kind, wantedHz, wanted } = side;
  const found = finding.filters.find((filter) => filter.kind === kind) ?? null;
  const judged: JudgedSide = { ...side, found, errorPercent: null, problems: [], open: null };
  if (wantedHz === null) return judged;
  if (finding.verdict === 'none of these') return { ...judged, problems: ['none-of-these'] };
  if (found === null) {
    return isInSight(kind, wantedHz, fitted)
      ? { ...judged, problems: ['missing'] }
      : { ...judged, open: 'out-of-sight' };
  }
  const errorPercent = 100 * (found.cutoffHz / likeWithLike(kind, wantedHz, wanted, found) - 1);
  const slope = slopeProblems(wanted, found);
  const isOpen = wanted !== null && (found.order === null || found.alignment === null);
  return {
    ...judged,
    errorPercent,
    problems: Math.abs(errorPercent) > tolerance ? ['corner-off', ...slope] : slope,
    open: isOpen && slope.length === 0 ? 'slope' : null,
  };
}

/**
 * The fitted filters against the wanted ones.
 *
 * @param fitted the stretch that they were looked for in
 * @param cornerPercent how far a corner may lie off
 */
export function judgedSides(
  channel: CrossoverChannel,
  finding: FilterFinding,
  fitted: FrequencyBand,
  cornerPercent: number,
): JudgedSides {
  const { band, slopes } = channel;
  const side = (kind: Kind, wantedHz: number | null, wanted: WantedSlope | null) =>
    judgedSide({ kind, wantedHz, wanted }, finding, fitted, cornerPercent);
  return {
    highPass: side('high-pass', band.highPassHz, slopes.highPass),
    lowPass: side('low-pass', band.lowPassHz, slopes.lowPass),
  };
}

/** `null` where nothing is wanted, or it could not be told. */
export function sideInside(side: JudgedSide): boolean | null {
  if (side.wantedHz === null) return null;
  if (side.problems.length > 0) return false;
  return side.open === 'out-of-sight' ? null : true;
}
