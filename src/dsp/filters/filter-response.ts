import { type Alignment, type BesselNormalisation, prototypePolynomial } from './prototype.ts';

export type FilterKind = 'high-pass' | 'low-pass';

/** One filter, whole: what it does at every frequency follows. */
export interface Filter {
  kind: FilterKind;
  alignment: Alignment;
  order: number;
  /** -3.01 dB; for Linkwitz-Riley -6.02 dB; for Bessel as its normalisation says. */
  cutoffHz: number;
  /** Counts for Bessel only; `magnitude` by default. */
  normalisation?: BesselNormalisation;
}

export interface ComplexValue {
  re: number;
  im: number;
}

/**
 * Complex response of an analogue filter, 1 (0 dB, 0 degrees) deep in its pass band.
 * A high-pass is the low-pass with `s` turned into `1/s`.
 */
export function filterResponse(filter: Filter, frequencyHz: number): ComplexValue {
  const polynomial = prototypePolynomial(filter.alignment, filter.order, filter.normalisation);
  const ratio = filter.kind === 'low-pass' ? frequencyHz / filter.cutoffHz : -filter.cutoffHz / frequencyHz;
  let re = 0;
  let im = 0;
  for (let power = polynomial.length - 1; power >= 0; power -= 1) {
    const turned = re;
    re = -im * ratio + polynomial[power]!;
    im = turned * ratio;
  }
  const square = re * re + im * im;
  return { re: re / square, im: -im / square };
}

/** Conventional slope: 6 dB per octave and order, reached far from the corner only. */
export function slopeDbPerOctave(order: number): number {
  return 6 * order;
}
