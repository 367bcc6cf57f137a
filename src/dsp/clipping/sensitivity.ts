import { cutHarmonic } from './crest-cut.ts';
import type { HarmonicRatios } from './harmonic-ratios.ts';
import { angleOfOverdrive } from './overdrive.ts';

/** Expected gain at which a limiter would hardly ever be missed (see `PatternMatch.gain`; 30 decides). */
const SURE_GAIN = 60;
const MOST_DB = 6;

/**
 * The smallest overdrive that this reading would have shown, for two equal rails and for one alike, from
 * the harmonics of `lowestOrder` and up against their noise.
 *
 * Rule of thumb at 60 dB of signal against noise, 8192 frames at 48 kHz, 1 kHz: 0.006 dB.
 * @returns dB, or `null` where even 6 dB would not show: too noisy, or too few harmonics in the band
 */
export function smallestVisibleOverdrive(ratios: HarmonicRatios, lowestOrder: number): number | null {
  const seen = (overdriveDb: number) => {
    const angle = angleOfOverdrive(overdriveDb);
    const [one, both] = [1 - cutHarmonic(1, angle), 1 - 2 * cutHarmonic(1, angle)];
    let gainOne = 0;
    let gainBoth = 0;
    for (let order = lowestOrder; order <= ratios.highestOrder; order++) {
      const ratio = cutHarmonic(order, angle) / ratios.sigma[order - 2]!;
      gainOne += (ratio / one) ** 2;
      if (order % 2 === 1) gainBoth += ((2 * ratio) / both) ** 2;
    }
    return Math.min(gainOne, gainBoth) >= SURE_GAIN;
  };
  if (!seen(MOST_DB)) return null;
  let [low, high] = [1e-4, MOST_DB];
  while (high / low > 1.02) {
    const middle = Math.sqrt(low * high);
    if (seen(middle)) high = middle;
    else low = middle;
  }
  return high;
}
