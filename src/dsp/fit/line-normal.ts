import { dirichlet, dirichletCurvature, dirichletSlope } from './dirichlet.ts';

/**
 * Lines whose frequencies are whole-number sums of a few base frequencies: for each line, how many times
 * each base goes into it. `[[1]]` is one sine, `[[1], [2], [3]]` a sine with harmonics, `[[1, 0], [0, 1]]`
 * two tones, `[[1, 0], [0, 1], [-1, 1]]` two tones and their difference.
 */
export type LineOrders = readonly (readonly number[])[];

/**
 * Unknowns of a joint fit, about the centre of the record:
 * `x = dc + sum of cosine[k] cos(w[k] u) + sine[k] sin(w[k] u)`, `w[k] = sum of orders[k][j] base[j]`.
 * In a vector they stand as dc, then cosine and sine of each line, then the bases.
 */
export interface LineUnknowns {
  dc: number;
  cosine: Float64Array;
  sine: Float64Array;
  /** Radians per frame. */
  bases: Float64Array;
}

export function unknownCount(orders: LineOrders, bases: number): number {
  return 1 + 2 * orders.length + bases;
}

export function lineFrequency(order: readonly number[], bases: Float64Array): number {
  let w = 0;
  for (let j = 0; j < bases.length; j += 1) w += order[j]! * bases[j]!;
  return w;
}

/**
 * Normal matrix (transposed Jacobian times Jacobian) of the joint fit, in closed form: it is the same
 * whatever the samples are, and divided by the noise's variance it is the Fisher information.
 *
 * @param into filled, both triangles; `unknownCount` squared
 */
export function normalMatrix(
  frames: number,
  orders: LineOrders,
  at: LineUnknowns,
  into: Float64Array,
): Float64Array {
  const size = unknownCount(orders, at.bases.length);
  const firstBase = 1 + 2 * orders.length;
  into.fill(0);
  const put = (row: number, column: number, value: number) => {
    into[row * size + column] = into[row * size + column]! + value;
    if (row !== column) into[column * size + row] = into[row * size + column]!;
  };
  put(0, 0, frames);
  for (let k = 0; k < orders.length; k += 1) {
    const w = lineFrequency(orders[k]!, at.bases);
    put(0, 1 + 2 * k, dirichlet(frames, w));
    const onDc = at.cosine[k]! * dirichletSlope(frames, w);
    for (let j = 0; j < at.bases.length; j += 1) put(0, firstBase + j, orders[k]![j]! * onDc);
    for (let other = 0; other < orders.length; other += 1) {
      const apart = w - lineFrequency(orders[other]!, at.bases);
      const together = 2 * w - apart;
      if (other <= k) {
        const [near, far] = [dirichlet(frames, apart) / 2, dirichlet(frames, together) / 2];
        put(1 + 2 * k, 1 + 2 * other, near + far);
        put(2 + 2 * k, 2 + 2 * other, near - far);
      }
      const slopes = [dirichletSlope(frames, apart) / 2, dirichletSlope(frames, together) / 2] as const;
      // Derivative of line k by its frequency, u (sine cos - cosine sin), against the other line's two columns.
      const onCosine = at.cosine[k]! * (slopes[1] + slopes[0]);
      const onSine = at.sine[k]! * (slopes[0] - slopes[1]);
      for (let j = 0; j < at.bases.length; j += 1) {
        put(1 + 2 * other, firstBase + j, orders[k]![j]! * onCosine);
        put(2 + 2 * other, firstBase + j, orders[k]![j]! * onSine);
      }
      const bends = [dirichletCurvature(frames, apart), dirichletCurvature(frames, together)] as const;
      const both =
        (-at.sine[k]! * at.sine[other]! * (bends[0] + bends[1]) -
          at.cosine[k]! * at.cosine[other]! * (bends[0] - bends[1])) /
        2;
      for (let i = 0; i < at.bases.length; i += 1) {
        for (let j = 0; j <= i; j += 1) {
          put(firstBase + i, firstBase + j, orders[k]![i]! * orders[other]![j]! * both);
        }
      }
    }
  }
  return into;
}
