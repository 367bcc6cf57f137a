/**
 * What the clipping verdict is drawn from: the harmonics of a steady tone,
 * referred to the fundamental's own phase, and what the converter's codes did.
 *
 * With theta the running phase of the fundamental (a cosine crest at theta = 0):
 *   x = dc + amplitude*cos(theta) + sum over n >= 2 of cosine[n-2]*cos(n*theta) + sine[n-2]*sin(n*theta)
 * A memoryless limiter makes cosine terms only. Amplitudes are peak, full scale 1.0.
 */
export interface HarmonicView {
  sampleRateHz: number;
  frequencyHz: number;
  amplitude: number;
  dc: number;
  /** How many harmonics are held, from the 2nd up; the arrays may be longer. */
  count: number;
  cosine: Float64Array;
  sine: Float64Array;
  /** Standard uncertainty of each cosine and sine term, from the noise around that harmonic. */
  sigma: Float64Array;
  /** RMS of everything in the record that is neither DC, fundamental nor a held harmonic, full scale 1.0. */
  noiseRms: number;
}

/** Counted sample by sample over the same stretch; nothing may be skipped. */
export interface CodeFacts {
  frames: number;
  highest: number;
  lowest: number;
  /** Longest run of neighbouring samples within `NEAR_FULL_SCALE` of +1.0 and -1.0. */
  longestRunHigh: number;
  longestRunLow: number;
  /** All samples within `NEAR_FULL_SCALE` of +1.0 and -1.0. */
  framesHigh: number;
  framesLow: number;
}
