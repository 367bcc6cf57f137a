import type { DistortionFloor } from './distortion-floor.ts';
import type { FoundKnee, KneePoint } from './knee-point.ts';
import type { LimiterCurve } from './limiter-curve.ts';
import { type CurvePoint, valueAtZero } from './weighted-curve.ts';

/** The trade states clean power at 1 % THD (references 3.2); by it a knee is read. */
export const KNEE_PERCENT = 1;

/** Dots with less distortion of their own than this, or than half of their floor, point nowhere. */
const LEAST_EXCESS_PERCENT = 0.1;
const LEAST_EXCESS_OF_FLOOR = 0.5;
/** Reach of the local fit to either side, in ln(THD): 5 times less and 5 times more distortion. */
const REACH = 1.6;
const MOST_REACH = 6.4;
const FEWEST_DOTS = 4;
const DOTS_FOR_A_PARABOLA = 8;
/** Readings follow one another by 1/20 s over windows of 0.17 s: so many tell one thing. */
const DOTS_PER_WINDOW = 3.5;
/** A level read while it moves; a distortion figure of a moving level. */
const LEVEL_SIGMA_DB = 0.01;
const LEAST_RELATIVE = 0.02;
/** What is left when all else is perfect. */
const LEAST_UNCERTAINTY_DB = 0.02;

export interface ImpliedKnee extends FoundKnee {
  /** dB by which the implied knee moves while distortion grows by e: 0 for a sharp corner. */
  softness: number;
  /** Dots that had a say. */
  dots: number;
}

/**
 * The knee that dots above it point at.
 *
 * Each dot points at the ceiling of the ideal limiter that would show its distortion at its level. A sharp
 * ceiling gives the same answer at every distortion; a soft one a lower answer at less, so the answer is read
 * at 1 %: **the knee is the ceiling of the ideal limiter that reaches 1 % THD at the same level**, which is the
 * 1 % level less 0.20 dB. Where a turn stops short of 1 % (or a floor hides it) the nearest distortion that
 * was seen stands in, and what the softness could still move the answer by counts as uncertainty.
 *
 * @param floor taken out of each dot by power; `null` for none
 * @returns `null` with fewer than four dots
 */
export function impliedKnee(
  points: readonly KneePoint[],
  floor: DistortionFloor | null,
  curve: LimiterCurve,
): ImpliedKnee | null {
  const dots = points.flatMap((point) => pointing(point, floor, curve));
  if (dots.length < FEWEST_DOTS) return null;
  const sorted = dots.map((dot) => dot.x).sort((a, b) => a - b);
  const end = Math.min(FEWEST_DOTS, sorted.length) - 1;
  const wanted = floor === null ? 0 : Math.max(0, Math.log((1.5 * floor.thdPercent) / KNEE_PERCENT));
  const at = Math.min(sorted[sorted.length - 1 - end]!, Math.max(sorted[end]!, wanted));
  const near = within(dots, at);
  const span = Math.max(...near.map((p) => p.x)) - Math.min(...near.map((p) => p.x));
  const order = span < 0.1 ? 0 : near.length >= DOTS_FOR_A_PARABOLA && span > 1 ? 2 : 1;
  const fit = valueAtZero(near, order);
  const windows = Math.sqrt(DOTS_PER_WINDOW);
  return {
    levelDbfs: fit.value,
    uncertaintyDb: Math.hypot(fit.uncertainty * windows, fit.slope * at, LEAST_UNCERTAINTY_DB),
    softness: fit.slope,
    dots: near.length,
  };
}

/** The ceiling that one dot points at (y), over ln(distortion/1 %) (x). */
function pointing(point: KneePoint, floor: DistortionFloor | null, curve: LimiterCurve): CurvePoint[] {
  const { levelDbfs, thdPercent, thdUncertaintyPercent } = point;
  const under = floor === null ? 0 : floor.thdPercent * Math.exp(floor.slope * (levelDbfs - floor.levelDbfs));
  const excess = Math.sqrt(Math.max(0, thdPercent ** 2 - under ** 2));
  if (!(excess >= Math.max(LEAST_EXCESS_PERCENT, LEAST_EXCESS_OF_FLOOR * under))) return [];
  if (!(excess < curve.mostPercent)) return [];
  const relative = Math.max(LEAST_RELATIVE, floor?.scatter ?? 0, (thdUncertaintyPercent ?? 0) / thdPercent);
  const ofLogarithm = relative * (thdPercent / excess) ** 2;
  const sigma = Math.hypot(curve.slopeDb(excess) * ofLogarithm, LEVEL_SIGMA_DB);
  return [
    { x: Math.log(excess / KNEE_PERCENT), y: levelDbfs - curve.levelAboveDb(excess), weight: 1 / sigma ** 2 },
  ];
}

/** The dots around `at`, which becomes 0, the further the lighter; the reach widens until there are enough. */
function within(dots: readonly CurvePoint[], at: number): CurvePoint[] {
  for (let reach = REACH; ; reach *= 2) {
    const near = dots.flatMap((dot) => {
      const away = Math.abs(dot.x - at) / reach;
      // Tricube (Cleveland 1979).
      return away < 1 ? [{ ...dot, x: dot.x - at, weight: dot.weight * (1 - away ** 3) ** 3 }] : [];
    });
    if (near.length >= DOTS_FOR_A_PARABOLA || reach >= MOST_REACH) return near;
  }
}
