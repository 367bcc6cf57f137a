import type { ClippingShape } from '../../reading.ts';

/** Harmonics against the fundamental, index 0 the 2nd, with theta = 0 at the fundamental's own crest. */
export interface ShapePattern {
  cosine: Float64Array;
  sine: Float64Array;
  /** Fundamental against that of the sine as it would be without the limit. */
  share: number;
}

/**
 * A way of being limited, as a pattern of harmonics that one or two numbers decide. The first is always the
 * overdrive, as ln(dB) or dB; the second, where there is one, says how the limit bends or leans.
 */
export interface ShapeFamily {
  shape: ClippingShape;
  /** Coarse grid to start from. */
  starts: readonly (readonly number[])[];
  /** Kept inside these. */
  least: readonly number[];
  most: readonly number[];
  /** Step for slopes. */
  step: readonly number[];
  pattern(parameters: readonly number[], highestOrder: number): ShapePattern;
  /** Drive past the onset, dB; `null` where the limit has none. */
  overdriveDb(parameters: readonly number[]): number | null;
}
