import { type Alignment, HIGHEST_ORDER, prototypePolynomial, squaredMagnitude } from './prototype.ts';

/** One shape that a side of a band may have, its corner left open. */
export interface Shape {
  alignment: Alignment;
  order: number;
  /** `|D|^2` in powers of `(f/fc)^2` (low-pass) or `(fc/f)^2` (high-pass). */
  loss: readonly number[];
  /** Where the loss reaches 3.01 dB, over the corner: 1 but for Linkwitz-Riley. */
  halfPowerRatio: number;
}

/**
 * Every shape once, simplest first. Two names for one shape are settled for the plain one: a Bessel of order 1 is a
 * Butterworth of order 1; Linkwitz-Riley of order 2M is two Butterworths of order M at one corner.
 */
export const SHAPES: readonly Shape[] = allShapes();

function allShapes(): Shape[] {
  const shapes: Shape[] = [];
  for (let order = 1; order <= HIGHEST_ORDER; order += 1) {
    shapes.push(shapeOf('butterworth', order));
    if (order % 2 === 0) shapes.push(shapeOf('linkwitz-riley', order));
    if (order > 1) shapes.push(shapeOf('bessel', order));
  }
  return shapes;
}

function shapeOf(alignment: Alignment, order: number): Shape {
  const loss = squaredMagnitude(prototypePolynomial(alignment, order));
  const halfPowerRatio = alignment === 'linkwitz-riley' ? (Math.SQRT2 - 1) ** (1 / order) : 1;
  return { alignment, order, loss, halfPowerRatio };
}

const DB_PER_NEPER_POWER = 10 / Math.LN10;

/**
 * Loss in decibels at `x`, and how fast it grows with ln x.
 *
 * @param into receives the two
 */
export function lossAt(loss: readonly number[], x: number, into: { lossDb: number; perLogX: number }): void {
  let value = 0;
  let derivative = 0;
  for (let power = loss.length - 1; power >= 0; power -= 1) {
    derivative = derivative * x + value;
    value = value * x + loss[power]!;
  }
  into.lossDb = DB_PER_NEPER_POWER * Math.log(value);
  into.perLogX = (DB_PER_NEPER_POWER * derivative * x) / value;
}
