import type { ClippedSide } from '../reading.ts';
import { type Crest, crestsOf, foldedPeriod, SINE_TOP_SHARE } from './folded-crests.ts';
import type { HarmonicRatios } from './harmonic-ratios.ts';
import { matchPattern } from './pattern-match.ts';

/** Third harmonic, against the fundamental, below which compression is no matter. */
const LEAST_THIRD = 0.01;
/** Fifth harmonic that a driver's gentle bend seldom reaches. */
const LEAST_FIFTH = 0.002;

/** Whether a harmonic is nearly all cosine, as a stage without memory makes it. */
function withoutMemory(ratios: HarmonicRatios, order: number): boolean {
  return Math.abs(ratios.sine[order - 2]!) < 0.25 * Math.abs(ratios.cosine[order - 2]!);
}

/** A third harmonic of 1 % or more with the phase that flattens both crests. */
export function thirdCompresses(ratios: HarmonicRatios): boolean {
  return ratios.highestOrder >= 3 && ratios.cosine[1]! < -LEAST_THIRD && withoutMemory(ratios, 3);
}

/**
 * A ceiling that bends in gradually (the hyperbolic tangent is the model): 3rd, 5th and 7th harmonics in
 * turn against, with and against the fundamental, all standing out of the noise, and a crest that stays
 * near its top for longer than a sine does. A cubic bend makes a 3rd alone and is not told from a driver;
 * a dead zone about zero makes the same harmonics with the opposite signs and is not limiting.
 *
 * @returns which crests are rounded off, or `null`
 */
export function findRounding(ratios: HarmonicRatios): ClippedSide | null {
  if (ratios.highestOrder < 7 || !thirdCompresses(ratios)) return null;
  const [fifth, seventh] = [ratios.cosine[3]!, ratios.cosine[5]!];
  const outOfNoise = [5, 7].every(
    (order) => Math.abs(ratios.cosine[order - 2]!) > 5 * ratios.sigma[order - 2]!,
  );
  if (!outOfNoise || fifth < LEAST_FIFTH || seventh > 0) return null;
  if (![5, 7].every((order) => withoutMemory(ratios, order))) return null;
  const highest = matchPattern(ratios, 2).highestPresent;
  const { high, low } = crestsOf(foldedPeriod(ratios, highest));
  const rounded = ({ height, topShare }: Crest) => height < 1 && topShare > 1.15 * SINE_TOP_SHARE;
  if (rounded(high) && rounded(low)) return 'both';
  if (rounded(high)) return 'positive';
  return rounded(low) ? 'negative' : null;
}
