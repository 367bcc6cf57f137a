import type { HarmonicRatios } from './harmonic-ratios.ts';

/** A harmonic this many standard uncertainties long is there: chance makes one in 25,000 this long. */
const PRESENT_SIGMAS = 4.5;

export interface PatternMatch {
  /**
   * Twice the log-likelihood gained by the prediction over "no such harmonics", from noise alone. A shape
   * chosen freely reaches 30 by chance about once in a million readings.
   */
  gain: number;
  /** Share of the harmonics' energy, noise taken out, that the prediction accounts for; below 0 if it adds. */
  explained: number;
  /** How many harmonics stand out of the noise one by one, and the highest that does (0: none). */
  present: number;
  highestPresent: number;
  /** Root-sum-square of the harmonics against the fundamental, noise taken out. */
  content: number;
  /** Whether the harmonics together are more than noise (six standard deviations of its chi-square). */
  beyondNoise: boolean;
}

/** Compares measured with predicted ratios from `lowestOrder` up; `predicted` may be left out. */
export function matchPattern(
  ratios: HarmonicRatios,
  lowestOrder: number,
  predicted?: { cosine: Float64Array; sine: Float64Array },
): PatternMatch {
  const match = { gain: 0, present: 0, highestPresent: 0 };
  let energy = 0;
  let left = 0;
  let noise = 0;
  let chiSquare = 0;
  const first = lowestOrder - 2;
  const orders = Math.max(0, ratios.highestOrder - lowestOrder + 1);
  for (let at = first; at < first + orders; at++) {
    const cosine = ratios.cosine[at]!;
    const sine = ratios.sine[at]!;
    const variance = ratios.sigma[at]! ** 2;
    const size = cosine ** 2 + sine ** 2;
    const rest = (cosine - (predicted?.cosine[at] ?? 0)) ** 2 + (sine - (predicted?.sine[at] ?? 0)) ** 2;
    match.gain += (size - rest) / variance;
    energy += size;
    left += rest;
    noise += 2 * variance;
    chiSquare += size / variance;
    if (size < PRESENT_SIGMAS ** 2 * variance) continue;
    match.present += 1;
    match.highestPresent = at + 2;
  }
  const signal = Math.max(0, energy - noise);
  return {
    ...match,
    explained: signal > 0 ? 1 - Math.max(0, left - noise) / signal : 0,
    content: Math.sqrt(signal),
    beyondNoise: chiSquare > 2 * orders + 6 * Math.sqrt(4 * orders) + 10,
  };
}
