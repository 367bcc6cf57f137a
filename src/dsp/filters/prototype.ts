/**
 * Low-pass prototypes of the three alignments that crossovers are made of, as the polynomial
 * `D(s)` of `H(s) = 1 / D(s)`, `D(0) = 1`, for a corner at 1 rad/s. A high-pass is `H(1/s)`.
 *
 * What "corner" means, by alignment: Butterworth, -3.01 dB; Linkwitz-Riley, -6.02 dB (S. Linkwitz, JAES 24(1)
 * 1976: two equal Butterworth filters of half the order in series, hence even orders only); Bessel, by its
 * normalisation, which a figure without it leaves open.
 */

export type Alignment = 'butterworth' | 'linkwitz-riley' | 'bessel';

/**
 * `magnitude`: -3.01 dB at the corner. `phase`: asymptotes meet at the corner, so that the phase there is half of
 * the whole turn, as in a Butterworth of the same order. `delay`: unit group delay far below the corner.
 */
export type BesselNormalisation = 'magnitude' | 'phase' | 'delay';

export const HIGHEST_ORDER = 8;

function product(a: readonly number[], b: readonly number[]): number[] {
  const out = new Array<number>(a.length + b.length - 1).fill(0);
  a.forEach((x, i) => {
    b.forEach((y, j) => {
      out[i + j] = out[i + j]! + x * y;
    });
  });
  return out;
}

/** Sections `1 + s + ...`: `s^2 + 2 sin((2k - 1) pi / 2N) s + 1`, and `s + 1` where the order is odd. */
function butterworth(order: number): number[] {
  let polynomial = order % 2 === 1 ? [1, 1] : [1];
  for (let k = 1; k <= Math.floor(order / 2); k += 1) {
    polynomial = product(polynomial, [1, 2 * Math.sin(((2 * k - 1) * Math.PI) / (2 * order)), 1]);
  }
  return polynomial;
}

/** Reverse Bessel polynomial over its constant: unit group delay at 0 (W. E. Thomson, Proc. IEE 96 III, 1949). */
function bessel(order: number): number[] {
  const coefficients = [1];
  for (let k = 0; k < order; k += 1) {
    coefficients.push((coefficients[k]! * 2 * (order - k)) / ((k + 1) * (2 * order - k)));
  }
  return coefficients;
}

/** `D(s)` of which `D(s * scale)` is wanted. */
function stretched(polynomial: readonly number[], scale: number): number[] {
  return polynomial.map((coefficient, power) => coefficient * scale ** power);
}

/** Where `|D|^2` reaches 2, by bisection to the last bit. */
function halfPowerRadians(polynomial: readonly number[]): number {
  const loss = squaredMagnitude(polynomial);
  let low = 0;
  let high = 16;
  for (let step = 0; step < 80; step += 1) {
    const middle = (low + high) / 2;
    if (valueAt(loss, middle * middle) < 2) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function besselScale(polynomial: readonly number[], normalisation: BesselNormalisation): number {
  const order = polynomial.length - 1;
  if (normalisation === 'delay') return 1;
  if (normalisation === 'phase') return polynomial[order]! ** (-1 / order);
  return halfPowerRadians(polynomial);
}

/**
 * Coefficients of `D(s)`, constant first.
 *
 * @param order 1 to 8; even for Linkwitz-Riley
 * @throws RangeError for an order that the alignment has not
 */
export function prototypePolynomial(
  alignment: Alignment,
  order: number,
  normalisation: BesselNormalisation = 'magnitude',
): number[] {
  const exists =
    Number.isInteger(order) &&
    order >= 1 &&
    order <= HIGHEST_ORDER &&
    (alignment !== 'linkwitz-riley' || order % 2 === 0);
  if (!exists) throw new RangeError(`There is no ${alignment} filter of order ${order} here.`);
  if (alignment === 'butterworth') return butterworth(order);
  if (alignment === 'linkwitz-riley') {
    const half = butterworth(order / 2);
    return product(half, half);
  }
  const polynomial = bessel(order);
  return stretched(polynomial, besselScale(polynomial, normalisation));
}

/** `|D(j w)|^2` as a polynomial in `w^2`, constant first. */
export function squaredMagnitude(polynomial: readonly number[]): number[] {
  const even: number[] = [];
  const odd: number[] = [];
  polynomial.forEach((coefficient, power) => {
    const signed = power % 4 >= 2 ? -coefficient : coefficient;
    (power % 2 === 0 ? even : odd).push(signed);
  });
  const evenSquared = product(even, even);
  const oddSquared = odd.length === 0 ? [] : [0, ...product(odd, odd)];
  return Array.from(
    { length: polynomial.length },
    (_, power) => (evenSquared[power] ?? 0) + (oddSquared[power] ?? 0),
  );
}

function valueAt(polynomial: readonly number[], x: number): number {
  let value = 0;
  for (let power = polynomial.length - 1; power >= 0; power -= 1) value = value * x + polynomial[power]!;
  return value;
}
