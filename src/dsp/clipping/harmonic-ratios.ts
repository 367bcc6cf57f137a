import type { HarmonicView } from './harmonic-view.ts';

/**
 * No harmonic is trusted to better than this, against the fundamental (-100 dBc): below it lie converter
 * steps and the measuring input's own bends, which are no evidence about the vehicle.
 */
const LEAST_SIGMA = 1e-5;

/** Beyond this order a limiter that matters adds nothing new, and live readings want the time. */
const HIGHEST_ORDER = 60;

/** Harmonics divided by the fundamental; index 0 is the 2nd. */
export interface HarmonicRatios {
  frequencyHz: number;
  sampleRateHz: number;
  highestOrder: number;
  cosine: Float64Array;
  sine: Float64Array;
  /** Standard uncertainty of each cosine and sine ratio. */
  sigma: Float64Array;
}

/**
 * The view as ratios, with the floor on trust applied.
 *
 * @returns `null` where the view holds no fundamental or a value that is not a number
 */
export function harmonicRatios(view: HarmonicView): HarmonicRatios | null {
  const { amplitude, frequencyHz } = view;
  if (!(amplitude > 0 && Number.isFinite(amplitude) && frequencyHz > 0)) return null;
  const count = Math.max(0, Math.min(view.count, HIGHEST_ORDER - 1));
  const scaled = (terms: Float64Array) => terms.slice(0, count).map((term) => term / amplitude);
  const ratios = {
    frequencyHz,
    sampleRateHz: view.sampleRateHz,
    highestOrder: count + 1,
    cosine: scaled(view.cosine),
    sine: scaled(view.sine),
    sigma: scaled(view.sigma).map((sigma) => Math.max(sigma, LEAST_SIGMA)),
  };
  const whole = [ratios.cosine, ratios.sine, ratios.sigma].every((terms) => terms.every(Number.isFinite));
  return whole ? ratios : null;
}

/** The same without the orders above `highestOrder`. */
export function upToOrder(ratios: HarmonicRatios, highestOrder: number): HarmonicRatios {
  if (highestOrder >= ratios.highestOrder) return ratios;
  const count = Math.max(0, highestOrder - 1);
  return {
    frequencyHz: ratios.frequencyHz,
    sampleRateHz: ratios.sampleRateHz,
    highestOrder: count + 1,
    cosine: ratios.cosine.subarray(0, count),
    sine: ratios.sine.subarray(0, count),
    sigma: ratios.sigma.subarray(0, count),
  };
}
