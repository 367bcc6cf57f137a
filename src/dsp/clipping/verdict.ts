import type { Clipping } from '../reading.ts';
import { railOverloaded, railsOf } from './codes.ts';
import type { CodeFacts, HarmonicView } from './harmonic-view.ts';

/**
 * Says whether the wave is whole, clipped, or overloads our own input.
 *
 * @param view harmonics of the steady tone, or `null` where none stands out
 * @param codes what the converter's codes did over the same stretch
 */
export function judgeClipping(view: HarmonicView | null, codes: CodeFacts): Clipping {
  const { high, low } = railsOf(codes);
  const overHigh = railOverloaded(high, view, codes.frames);
  const overLow = railOverloaded(low, view, codes.frames);
  if (overHigh || overLow) {
    return {
      verdict: 'input-overload',
      side: overHigh && overLow ? 'both' : overHigh ? 'positive' : 'negative',
      overdriveDb: null,
      kneeDbfs: null,
      evidence: ['The input sits at its highest codes: turn the input down.'],
    };
  }
  return { verdict: 'undecided', side: null, overdriveDb: null, kneeDbfs: null, evidence: [] };
}
