import type { ClippedSide } from '../reading.ts';
import { crestsOf, foldedPeriod } from './folded-crests.ts';
import { type HarmonicRatios, upToOrder } from './harmonic-ratios.ts';
import { type LimitedSine, limitedHarmonic } from './limited-sine.ts';
import { fitLimiter, type LimiterFit, reliedOrder } from './limiter-fit.ts';
import { fundamentalShare } from './limiter-model.ts';
import { overdriveOfAngle } from './overdrive.ts';
import { matchPattern, type PatternMatch } from './pattern-match.ts';

/** A driver's own distortion ends about here; what a limiter makes does not. */
export const FIRST_HIGH_ORDER = 4;

/** A rail counts only if it is overdriven by at least this share of the other, in dB. */
const LEAST_SECOND_RAIL = 0.1;
/** Improvement of the misfit, in its own units per term, that a second rail must bring. */
const SECOND_RAIL_GAIN = 20;

/** Share of a lone high harmonic that must be explained where the path may have bent it. */
const LONE_EXPLAINED = 0.7;

export interface LimiterFinding {
  side: ClippedSide;
  /** The sine and the rails, with the measured fundamental as 1. */
  wave: LimitedSine;
  overdriveDb: number;
  /** Of the harmonics from the 4th up. */
  match: PatternMatch;
  /** How far the cut crest stands below the sine's own, dB, as folded from the harmonics that are present. */
  crestDropDb: number;
  /** The fit was held to a good path's tolerance, not to the loose one that soft corners pass too. */
  exact: boolean;
  /** The 2nd and 3rd were left out because something else makes them too. */
  masked: boolean;
}

/**
 * Looks for an ideal limiter in the harmonics. Three things must agree, none is enough alone: harmonics
 * from the 4th up are there beyond noise; their sizes and phases are those that one pair of rails predicts;
 * and so are the 2nd's and 3rd's.
 *
 * Where the 2nd and 3rd do not follow exactly (a driver, an output transformer), the higher ones are asked
 * alone, more of them and more closely; with 1 % to 5 % of 2nd and 3rd beside it an overdrive of 0.1 to 6 dB
 * comes out within 5 % of itself in 99 of 100 cases. Only if they will not say, the rough fit of all stands.
 */
export function findLimiter(ratios: HarmonicRatios): LimiterFinding | null {
  const plain = matchPattern(ratios, FIRST_HIGH_ORDER);
  // Most readings end here, before the costly fit.
  if (plain.present === 0) return null;
  const whole = judge(ratios, 2, { gain: 30, explained: 0.6, present: 1 });
  const explained = whole === null ? 0 : matchPattern(whole.relied, 2, whole.fit.terms).explained;
  if (whole !== null && explained >= 0.99) return whole.finding;
  if (plain.present >= 4) {
    const high = judge(ratios, FIRST_HIGH_ORDER, { gain: 60, explained: 0.85, present: 4 });
    if (high !== null) return high.finding;
  }
  return whole !== null && explained >= 0.8 ? whole.finding : null;
}

function judge(
  ratios: HarmonicRatios,
  lowestOrder: number,
  least: Agreement,
): { fit: LimiterFit; relied: HarmonicRatios; finding: LimiterFinding } | null {
  const both = fitLimiter(ratios, lowestOrder, 'both');
  if (!agrees(ratios, both, least)) return null;
  const { fit, side } = fewestRails(ratios, lowestOrder, both);
  const match = agrees(ratios, fit, least);
  if (!match) return null;
  const wave = {
    amplitude: 1 / fundamentalShare(fit.shape),
    highAngle: Math.cbrt(fit.shape.highCube),
    lowAngle: Math.cbrt(fit.shape.lowCube),
  };
  const overdriveDb = overdriveOfAngle(Math.max(wave.highAngle, wave.lowAngle));
  const masked = lowestOrder > 2;
  const crestDropDb = foldedDropDb(ratios, match.highestPresent, fit.shape.couplingRatio, wave);
  return {
    fit,
    relied: reliedOn(ratios, fit),
    finding: { side, wave, overdriveDb, match, crestDropDb, masked, exact: fit.trust !== 'loose' },
  };
}

/** Folds what was measured and compares its more cut crest with the sine; the lost mean is put back. */
function foldedDropDb(
  ratios: HarmonicRatios,
  highestOrder: number,
  couplingRatio: number,
  wave: LimitedSine,
): number {
  const { high, low } = crestsOf(foldedPeriod(ratios, highestOrder, couplingRatio));
  const mean = limitedHarmonic(wave, 0);
  const height = wave.highAngle >= wave.lowAngle ? high.height + mean : low.height - mean;
  return 20 * Math.log10(wave.amplitude / height);
}

/** What must be reached by the harmonics from the 4th up. */
type Agreement = Pick<PatternMatch, 'gain' | 'explained' | 'present'>;

function agrees(ratios: HarmonicRatios, fit: LimiterFit, least: Agreement): PatternMatch | null {
  const match = matchPattern(reliedOn(ratios, fit), FIRST_HIGH_ORDER, fit.terms);
  const { gain, explained, present } = match;
  // One harmonic alone, on a path that may bend it, must match closely: chance does not.
  const leastExplained = fit.trust === 'loose' && present === 1 ? LONE_EXPLAINED : least.explained;
  return gain >= least.gain && explained >= leastExplained && present >= least.present ? match : null;
}

/** The harmonics that the fit's own trust reaches to. */
function reliedOn(ratios: HarmonicRatios, fit: LimiterFit): HarmonicRatios {
  return upToOrder(ratios, reliedOrder(ratios, fit.trust));
}

/** Both rails, or the one that is enough. */
function fewestRails(
  ratios: HarmonicRatios,
  lowestOrder: number,
  both: LimiterFit,
): { fit: LimiterFit; side: ClippedSide } {
  const high = overdriveOfAngle(Math.cbrt(both.shape.highCube));
  const low = overdriveOfAngle(Math.cbrt(both.shape.lowCube));
  const shareOfSmaller = Math.min(high, low) / Math.max(high, low);
  if (shareOfSmaller > 0.9) return { fit: both, side: 'both' };
  const side = high > low ? 'positive' : 'negative';
  const one = fitLimiter(ratios, lowestOrder, side);
  const unit = Math.max(1, both.misfit / Math.max(1, 2 * (ratios.highestOrder - lowestOrder + 1) - 3));
  const needed = one.trust !== both.trust || one.misfit - both.misfit > SECOND_RAIL_GAIN * unit;
  return needed && shareOfSmaller > LEAST_SECOND_RAIL ? { fit: both, side: 'both' } : { fit: one, side };
}
