import { factor, inverse, solve } from '../linear-systems/cholesky.ts';
import {
  type LineOrders,
  type LineUnknowns,
  lineFrequency,
  normalMatrix,
  unknownCount,
} from './line-normal.ts';
import { phasorSums, subtractPhasor } from './phasor-sums.ts';

/** What a joint fit comes to. */
export interface JointFit {
  frames: number;
  orders: LineOrders;
  at: LineUnknowns;
  /** What no line explains; its own array. */
  residual: Float64Array;
  /** Mean square of the noise that leaves this residual: what the unknowns took is given back. */
  noiseVariance: number;
  /** Of all unknowns in their order (`LineUnknowns`), from white noise of that variance. */
  covariance: Float64Array;
}

const MOST_STEPS = 30;

/** Steps stop where no line moves by more than this many radians over the record. */
const STILL = 1e-10;

/** No step moves a line further than this many bins: from half a bin off the straight line overshoots. */
const LONGEST_STEP_BINS = 0.4;

/** A line that walks further than this many bins from where it began is lost. */
const FURTHEST_BINS = 2;

/**
 * Least-squares fit of several lines at once, by Gauss-Newton on all unknowns (IEEE Std 1057, extended
 * to several lines as in P. Handel, IEEE Trans. IM 49(6) 2000). In white noise it reaches the
 * Cramer-Rao bound, whatever the lines leak into each other, from about one cycle and one bin of
 * spacing on. Time goes with samples times lines.
 *
 * @param samples full scale 1.0; only read
 * @param startBases radians per frame, each within half a bin of its line
 * @param free whether the bases move; fixed ones make the three-parameter fit
 * @returns `null` where a line walks away or out of 0 to pi, where two lines are the same, or for fewer
 *   samples than unknowns; NaN anywhere gives `null`
 */
export function jointFit(
  samples: ArrayLike<number>,
  orders: LineOrders,
  startBases: readonly number[],
  free: boolean,
): JointFit | null {
  const lines = orders.length;
  const at: LineUnknowns = {
    dc: 0,
    cosine: new Float64Array(lines),
    sine: new Float64Array(lines),
    bases: Float64Array.from(startBases),
  };
  if (samples.length <= unknownCount(orders, free ? startBases.length : 0)) return null;
  let move = step(samples, orders, at, 0);
  for (let count = 0; free && move !== null && count < MOST_STEPS; count += 1) {
    move = step(samples, orders, at, startBases.length);
    if (move === null || wandered(orders, at, startBases, samples.length)) return null;
    if (move * samples.length < STILL) break;
    if (count === MOST_STEPS - 1) return null;
  }
  return move === null ? null : summed(samples, orders, at, free ? startBases.length : 0);
}

/** One step of all unknowns, the first `movable` bases included. @returns the furthest move of a base; `null` where there is none */
function step(
  samples: ArrayLike<number>,
  orders: LineOrders,
  at: LineUnknowns,
  movable: number,
): number | null {
  const fullSize = unknownCount(orders, at.bases.length);
  const size = unknownCount(orders, movable);
  const full = normalMatrix(samples.length, orders, at, new Float64Array(fullSize * fullSize));
  const right = projections(samples, orders, at);
  const known = new Float64Array(fullSize);
  known[0] = at.dc;
  for (let k = 0; k < orders.length; k += 1) {
    known[1 + 2 * k] = at.cosine[k]!;
    known[2 + 2 * k] = at.sine[k]!;
  }
  for (let row = 0; row < fullSize; row += 1) {
    for (let column = 0; column < fullSize; column += 1)
      right[row]! -= full[row * fullSize + column]! * known[column]!;
  }
  const { matrix, scale } = levelled(full, fullSize, size);
  if (!factor(matrix, size)) return null;
  const move = right.subarray(0, size);
  for (let row = 0; row < size; row += 1) move[row]! *= scale[row]!;
  solve(matrix, size, move);
  for (let row = 0; row < size; row += 1) move[row]! *= scale[row]!;
  at.dc += move[0]!;
  for (let k = 0; k < orders.length; k += 1) {
    at.cosine[k]! += move[1 + 2 * k]!;
    at.sine[k]! += move[2 + 2 * k]!;
  }
  let furthest = 0;
  const longest = (2 * Math.PI * LONGEST_STEP_BINS) / samples.length;
  for (let j = 0; j < movable; j += 1) {
    const wanted = move[size - movable + j]!;
    at.bases[j]! += Math.max(-longest, Math.min(longest, wanted));
    furthest = Math.max(furthest, Math.abs(wanted));
  }
  return furthest;
}

/** Transposed Jacobian times the samples. */
function projections(samples: ArrayLike<number>, orders: LineOrders, at: LineUnknowns): Float64Array {
  const right = new Float64Array(unknownCount(orders, at.bases.length));
  for (let n = 0; n < samples.length; n += 1) right[0]! += samples[n]!;
  const sums = { cosine: 0, sine: 0, slopeCosine: 0, slopeSine: 0 };
  for (let k = 0; k < orders.length; k += 1) {
    phasorSums(samples, lineFrequency(orders[k]!, at.bases), sums);
    right[1 + 2 * k] = sums.cosine;
    right[2 + 2 * k] = sums.sine;
    const slope = at.sine[k]! * sums.slopeCosine - at.cosine[k]! * sums.slopeSine;
    for (let j = 0; j < at.bases.length; j += 1) right[1 + 2 * orders.length + j]! += orders[k]![j]! * slope;
  }
  return right;
}

/** The leading part of a matrix with its diagonal scaled to 1: frames and frames cubed stand side by side in it. */
function levelled(
  full: Float64Array,
  fullSize: number,
  size: number,
): { matrix: Float64Array; scale: Float64Array } {
  const scale = Float64Array.from({ length: size }, (_, row) => 1 / Math.sqrt(full[row * (fullSize + 1)]!));
  const matrix = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      matrix[row * size + column] = full[row * fullSize + column]! * scale[row]! * scale[column]!;
    }
  }
  return { matrix, scale };
}

function wandered(orders: LineOrders, at: LineUnknowns, start: readonly number[], frames: number): boolean {
  const lost = at.bases.some(
    (base, j) => !(Math.abs(base - start[j]!) * frames <= 2 * Math.PI * FURTHEST_BINS),
  );
  return lost || orders.some((order) => outside(lineFrequency(order, at.bases)));
}

function outside(w: number): boolean {
  return !(w > 0 && w < Math.PI);
}

function summed(
  samples: ArrayLike<number>,
  orders: LineOrders,
  at: LineUnknowns,
  movable: number,
): JointFit | null {
  const residual = Float64Array.from(samples);
  for (let n = 0; n < residual.length; n += 1) residual[n]! -= at.dc;
  orders.forEach((order, k) => {
    subtractPhasor(residual, lineFrequency(order, at.bases), at.cosine[k]!, at.sine[k]!);
  });
  let sum = 0;
  for (const left of residual) sum += left * left;
  const fullSize = unknownCount(orders, at.bases.length);
  const size = unknownCount(orders, movable);
  const noiseVariance = sum / (residual.length - size);
  const full = normalMatrix(residual.length, orders, at, new Float64Array(fullSize * fullSize));
  const { matrix, scale } = levelled(full, fullSize, size);
  if (!factor(matrix, size)) return null;
  const ofFit = inverse(matrix, size);
  const covariance = new Float64Array(fullSize * fullSize);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      covariance[row * fullSize + column] =
        noiseVariance * ofFit[row * size + column]! * scale[row]! * scale[column]!;
    }
  }
  return { frames: residual.length, orders, at, residual, noiseVariance, covariance };
}
