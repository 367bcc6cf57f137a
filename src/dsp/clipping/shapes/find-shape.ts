import { type HarmonicRatios, upToOrder } from '../harmonic-ratios.ts';
import { FIRST_HIGH_ORDER } from '../limiter-finding.ts';
import { reliableOrder } from '../limiter-fit.ts';
import { matchPattern } from '../pattern-match.ts';
import { CURRENT } from './current-family.ts';
import { type FamilyFit, fitFamily } from './family-fit.ts';
import { SLEW } from './slew-family.ts';
import { SOFT } from './soft-family.ts';

/** As for a hard limit (`findLimiter`), but closer, since these patterns have a number more to turn. */
const LEAST_GAIN = 60;
const LEAST_PRESENT = 2;
const LEAST_EXPLAINED_HIGH = 0.9;
const LEAST_EXPLAINED = 0.98;
/** Another family that fits nearly as well leaves open which it is. */
const CLEARLY = 3;

/** Every pattern here holds odd orders only, so that even ones are left over: more than 2 % with room for noise. */
const MOST_EVEN = 0.05;

/**
 * Below this a limit on current is a plain ceiling's. A negative one (a series capacitor) is also what a coupling
 * capacitor behind a plain ceiling makes, and stays unnamed.
 */
const LEAST_REACTANCE = 0.12;

export interface ShapeFinding extends FamilyFit {
  /** False where another way of being limited fits about as well. */
  sure: boolean;
  /** Share of the harmonics' energy that the pattern accounts for. */
  explained: number;
}

/**
 * Looks for a limit that is not a sharp ceiling: a soft one, one on slope, one on current into a reactive load.
 * Asked for together: harmonics from the 4th up that stand out of the noise, two at least; 90 % of their energy
 * and 98 % of all harmonics' in the sizes and phases of one pattern. Harmonics from 16 kHz up have no say.
 */
export function findShape(ratios: HarmonicRatios): ShapeFinding | null {
  const relied = upToOrder(ratios, reliableOrder(ratios));
  if (matchPattern(relied, FIRST_HIGH_ORDER).present < LEAST_PRESENT) return null;
  if (evenShare(relied) > MOST_EVEN) return null;
  const fits = [SOFT, SLEW, CURRENT]
    .flatMap((family) => fitFamily(family, relied) ?? [])
    .filter((fit) => agrees(relied, fit))
    .sort((a, b) => a.misfit - b.misfit);
  const [best, second] = fits;
  if (best === undefined) return null;
  const clear = second === undefined || second.misfit > CLEARLY * best.misfit + LEAST_GAIN / 2;
  const sure = clear && !(best.family === CURRENT && best.parameters[1]! < LEAST_REACTANCE);
  return { ...best, sure, explained: explainedBy(relied, best, 2) };
}

/** Share of the harmonics' energy that lies in even orders, noise taken out. */
function evenShare({ cosine, sine, sigma }: HarmonicRatios): number {
  let [even, all] = [0, 0];
  for (let at = 0; at < sigma.length; at++) {
    const energy = cosine[at]! ** 2 + sine[at]! ** 2 - 2 * sigma[at]! ** 2;
    all += energy;
    if (at % 2 === 0) even += energy;
  }
  return even / Math.max(all, Number.MIN_VALUE);
}

/** The orders that the pattern holds. */
function held(ratios: HarmonicRatios, fit: FamilyFit): HarmonicRatios {
  return upToOrder(ratios, fit.pattern.cosine.length + 1);
}

function explainedBy(ratios: HarmonicRatios, fit: FamilyFit, lowestOrder: number): number {
  return matchPattern(held(ratios, fit), lowestOrder, fit.pattern).explained;
}

function agrees(ratios: HarmonicRatios, fit: FamilyFit): boolean {
  const high = matchPattern(held(ratios, fit), FIRST_HIGH_ORDER, fit.pattern);
  if (high.gain < LEAST_GAIN || high.explained < LEAST_EXPLAINED_HIGH) return false;
  return explainedBy(ratios, fit, 2) >= LEAST_EXPLAINED;
}
