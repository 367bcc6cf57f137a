import { type LimitedSine, limitedDistortionMeanSquare, limitedHarmonic } from './limited-sine.ts';
import { angleOfOverdrive } from './overdrive.ts';

/** Which rails an ideal limiter has: two equal ones, or one with the other out of reach. */
export type Rails = 'both' | 'one';

export interface ClippedThdQuestion {
  rails: Rails;
  /** Highest harmonic inside the band (`floor(bandHighHz/frequencyHz)`), or `Infinity` for all. */
  highestOrder: number;
}

const LEAST_OVERDRIVE_DB = 1e-9;
const MOST_OVERDRIVE_DB = 80;

/**
 * THD (F form, as a ratio; 0.01 is 1 %) of a sine driven `overdriveDb` past an ideal limiter.
 *
 * 0.25126 dB past two equal rails is 1 % (references 3.2). A band limit lowers it: at 1 kHz in 20 kHz
 * the same 1 % stands at 0.2524 dB. Below 2 for `highestOrder` there is no harmonic and the result is 0.
 */
export function thdOfOverdrive(overdriveDb: number, { rails, highestOrder }: ClippedThdQuestion): number {
  const angle = angleOfOverdrive(overdriveDb);
  const wave: LimitedSine = { amplitude: 1, highAngle: angle, lowAngle: rails === 'both' ? angle : 0 };
  const fundamental = limitedHarmonic(wave, 1);
  if (highestOrder === Number.POSITIVE_INFINITY) {
    return Math.sqrt(2 * limitedDistortionMeanSquare(wave)) / fundamental;
  }
  let sum = 0;
  for (let order = 2; order <= highestOrder; order++) sum += limitedHarmonic(wave, order) ** 2;
  return Math.sqrt(sum) / fundamental;
}

/**
 * The inverse: how far past the limiter gives this THD (F form, ratio).
 *
 * THD grows without a turn from 0 to that of a square (or half) wave, so a bracket always closes in.
 * @returns dB to 1e-10; 0 for a THD of 0; `null` for a THD that no overdrive up to 80 dB reaches
 *   (more than a square wave holds, or no harmonic in the band) and for NaN.
 */
export function overdriveOfThd(thd: number, question: ClippedThdQuestion): number | null {
  if (thd === 0) return 0;
  const excess = (logDb: number) => Math.log(thdOfOverdrive(Math.exp(logDb), question) / thd);
  let low = Math.log(LEAST_OVERDRIVE_DB);
  let high = Math.log(MOST_OVERDRIVE_DB);
  let excessLow = excess(low);
  let excessHigh = excess(high);
  if (!(excessLow <= 0 && excessHigh >= 0)) return null;
  // False position with the stale end halved (Illinois), which cannot leave the bracket.
  for (let step = 0; step < 200 && high - low > 1e-14 && excessHigh !== 0; step++) {
    const middle = (low * excessHigh - high * excessLow) / (excessHigh - excessLow);
    const excessMiddle = excess(middle);
    if (excessMiddle === 0) return Math.exp(middle);
    if (excessMiddle > 0) {
      high = middle;
      excessHigh = excessMiddle;
      excessLow /= 2;
    } else {
      low = middle;
      excessLow = excessMiddle;
      excessHigh /= 2;
    }
    if (Math.abs(excessMiddle) < 1e-14) return Math.exp(middle);
  }
  return Math.exp((low + high) / 2);
}
