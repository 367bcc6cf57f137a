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
 * A ceiling that bends in gradually (the hyperbolic tangent is one). Asked for together: a 3rd harmonic of
 * 1 % or more with the phase that flattens crests; 5th and 7th out of the noise, the 5th at 0.2 % or
 * more; all three without memory, in step with the crest; and a crest that stays near its top for longer than a sine's. A cubic bend makes a 3rd alone and is not told from a
 * driver; a dead zone about zero makes the same harmonics with the 3rd the other way, and is no ceiling.
 *
 * @returns which crests are rounded off, or `null`
 */
export function findRounding(ratios: HarmonicRatios): ClippedSide | null {
  if (ratios.highestOrder < 7 || !thirdCompresses(ratios)) return null;
  if (Math.abs(ratios.cosine[3]!) < LEAST_FIFTH) return null;
  const inStep = (order: number) =>
    withoutMemory(ratios, order) && Math.abs(ratios.cosine[order - 2]!) > 5 * ratios.sigma[order - 2]!;
  if (!inStep(5) || !inStep(7)) return null;
  const highest = matchPattern(ratios, 2).highestPresent;
  const { high, low } = crestsOf(foldedPeriod(ratios, highest));
  const rounded = ({ topShare }: Crest) => topShare > 1.15 * SINE_TOP_SHARE;
  if (rounded(high) && rounded(low)) return 'both';
  if (rounded(high)) return 'positive';
  return rounded(low) ? 'negative' : null;
}
