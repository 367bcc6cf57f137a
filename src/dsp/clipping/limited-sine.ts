import { cutHarmonic, cutMean, cutMeanSquare } from './crest-cut.ts';

/**
 * `amplitude*cos(theta)` held at or below one level and at or above another: the ideal limiter with
 * two rails of their own. An angle of 0 means that the rail is not reached. Levels from both angles
 * follow as `amplitude*cos(angle)`.
 */
export interface LimitedSine {
  /** Peak of the sine as it would be without the limiter, full scale 1.0. */
  amplitude: number;
  /** Half the stretch of the period that lies on the upper rail, rad, 0 to pi/2. */
  highAngle: number;
  lowAngle: number;
}

/**
 * Cosine term of one order, of what comes out. Order 0 is the mean. The upper cut is taken off; the lower one is
 * the same shape half a period later and added, hence the sign that alternates with the order:
 * equal rails leave odd orders only.
 */
export function limitedHarmonic(wave: LimitedSine, order: number): number {
  const { amplitude, highAngle, lowAngle } = wave;
  if (order === 0) return amplitude * (cutMean(lowAngle) - cutMean(highAngle));
  const high = cutHarmonic(order, highAngle);
  const low = cutHarmonic(order, lowAngle);
  const cut = order % 2 === 0 ? low - high : -low - high;
  return amplitude * (order === 1 ? 1 + cut : cut);
}

/** Mean square of every harmonic from the 2nd up, by Parseval on the disjoint cuts; no sum, no limit. */
export function limitedDistortionMeanSquare(wave: LimitedSine): number {
  const { amplitude, highAngle, lowAngle } = wave;
  const mean = cutMean(lowAngle) - cutMean(highAngle);
  const first = cutHarmonic(1, lowAngle) + cutHarmonic(1, highAngle);
  const total = cutMeanSquare(lowAngle) + cutMeanSquare(highAngle);
  return amplitude ** 2 * (total - mean ** 2 - first ** 2 / 2);
}

/** Mean square of the whole wave, its mean taken out. */
export function limitedMeanSquare(wave: LimitedSine): number {
  return limitedHarmonic(wave, 1) ** 2 / 2 + limitedDistortionMeanSquare(wave);
}

/** Share of the time spent on the upper and on the lower rail, 0 to 0.5 each. */
export function timeOnRails(wave: LimitedSine): { high: number; low: number } {
  return { high: wave.highAngle / Math.PI, low: wave.lowAngle / Math.PI };
}

/** Peak of the largest sine that passes whole: the level of the rail that is met first. */
export function kneeAmplitude(wave: LimitedSine): number {
  return wave.amplitude * Math.cos(Math.max(wave.highAngle, wave.lowAngle));
}
