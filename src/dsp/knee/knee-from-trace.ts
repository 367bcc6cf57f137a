import { type Corner, findCorner } from './corner.ts';
import { type ImpliedKnee, impliedKnee, KNEE_PERCENT } from './implied-knee.ts';
import type { KneePoint } from './knee-point.ts';
import { limiterCurve } from './limiter-curve.ts';
import { cellsOf, isDot, leastFromHereUp, type TraceCell } from './trace-cells.ts';

/** A floor that rises no faster than this (ln per dB) is the path's own, not the beginning of the limit. */
const FLAT_SLOPE = 0.03;
/** So many cells and dots must stand above 1 %, and one dot in so many must show a limit in its wave. */
const CELLS_ABOVE = 2;
const WITNESSES = 4;
const WITNESS_SHARE = 0.5;
const TOP_DB = 1;
/** Distortion must have been this much lower further down: what is there all along is no knee. */
const LOWER_BELOW = 0.7;
/** Dots this far under the corner still point at it, as far as they stand out of the floor. */
const UNDER_CORNER_DB = 0.3;

export interface TraceOptions {
  /** Highest harmonic in the band, `floor(bandHighHz/frequencyHz)`; all of them where left out. */
  highestOrder?: number;
}

/**
 * The level at which distortion leaves its floor, from the dots of one turn in any order; exactly: the ceiling
 * of the ideal limiter that reaches 1 % THD at the same level (`impliedKnee`).
 *
 * Seen in two ways. A **corner**: distortion shoots up within a decibel from a floor that is flat, falls, or
 * rises gently; the wave need show nothing. Or **witnesses**: distortion grows past 1 % and the waves up there
 * show a limit, as soft ones do that have no corner.
 *
 * @returns `null` where neither is seen: a clean turn has no knee, nor has a driver's own growth
 * @throws RangeError where the band holds no 3rd harmonic
 */
export function kneeFromTrace(points: readonly KneePoint[], options: TraceOptions = {}): ImpliedKnee | null {
  const curve = limiterCurve({ lowest: 2, highest: options.highestOrder ?? Number.POSITIVE_INFINITY });
  const cells = cellsOf(points);
  const corner = findCorner(cells);
  const onsetDbfs = witnessedOnset(points, cells);
  if (onsetDbfs === null && corner === null) return null;
  const floor = flooredBy(corner, onsetDbfs !== null);
  const from = corner === null ? Number.NEGATIVE_INFINITY : corner.levelDbfs - UNDER_CORNER_DB;
  // A soft limit shows long before its corner, if it has one.
  const told = points.filter((p) => isDot(p) && (onsetDbfs !== null || p.levelDbfs >= from));
  return impliedKnee(told, floor, curve);
}

/** What is taken out of the dots. Beside witnesses a rising floor is the limit's own beginning. */
function flooredBy(corner: Corner | null, witnessed: boolean): Corner['floor'] | null {
  if (corner === null) return null;
  return witnessed && corner.floor.slope > FLAT_SLOPE ? null : corner.floor;
}

function isWitness({ verdict, shape }: KneePoint): boolean {
  return verdict === 'clipped' || shape === 'soft';
}

/** Lowest cell from which all upward stands above 1 %, where waves show a limit and it was cleaner below. */
function witnessedOnset(points: readonly KneePoint[], cells: readonly TraceCell[]): number | null {
  const least = leastFromHereUp(cells);
  const at = cells.findIndex((_, k) => (least[k] ?? 0) >= KNEE_PERCENT);
  const start = cells[at];
  if (start === undefined || cells.length - at < CELLS_ABOVE) return null;
  if (!cells.slice(0, at).some((cell) => cell.thdPercent < LOWER_BELOW * KNEE_PERCENT)) return null;
  const above = points.filter((p) => isDot(p) && p.levelDbfs >= start.levelDbfs);
  if (above.filter(isWitness).length < WITNESSES) return null;
  const topDbfs = (cells.at(-1)?.levelDbfs ?? 0) - TOP_DB;
  const top = above.filter((p) => p.levelDbfs >= topDbfs);
  return top.filter(isWitness).length >= WITNESS_SHARE * top.length ? start.levelDbfs : null;
}
