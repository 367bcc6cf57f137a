/** Every pair of shapes put through a response: analogue, and digital at the usual rates. */
import { type BandFit, type Corners, type FitData, fitBand, ROUGH, THOROUGH } from './band-fit.ts';
import { SHAPES, type Shape } from './loss.ts';
import { bilinearWarp, DIGITAL_RATES_HZ, unwarped } from './warp.ts';

/** Fits with fewer points than this are made on all of them at once; above, on every third first. */
const COARSE_FROM_POINTS = 90;
const COARSE_STEP = 3;
/** So many of the coarse fits, and all with one filter or none, are made again on all points. */
const SHORTLIST = 32;

/** Data that end below this share of a rate show nothing of it (a shift of 0.1 %); nor can they reach half of it. */
const LOWEST_WARPED_SHARE = 0.02;
const HIGHEST_WARPED_SHARE = 0.46;

export function sidesOf(fit: BandFit): number {
  return (fit.highPass === null ? 0 : 1) + (fit.lowPass === null ? 0 : 1);
}

/** Where the level has fallen 3.01 dB from its highest, on either side; the data's ends where it never does. */
function halfPowerPoints(data: FitData): Corners {
  const { frequenciesHz, levelsDb } = data;
  const top = levelsDb.indexOf(Math.max(...levelsDb));
  const edge = levelsDb[top]! - 3.0103;
  let low = top;
  while (low > 0 && levelsDb[low]! > edge) low -= 1;
  let high = top;
  while (high < levelsDb.length - 1 && levelsDb[high]! > edge) high += 1;
  return { highPassHz: frequenciesHz[low]!, lowPassHz: frequenciesHz[high]! };
}

/** Every third point: enough to see which pairs are worth the whole. */
function coarse(data: FitData): FitData {
  const third = (values: Float64Array) => values.filter((_, i) => i % COARSE_STEP === 0);
  return {
    frequenciesHz: third(data.frequenciesHz),
    levelsDb: third(data.levelsDb),
    weights: third(data.weights),
  };
}

/** Every pair of shapes, either side also without a filter, on few points; then the best of them on all. */
function pairsOn(data: FitData): BandFit[] {
  const sides: (Shape | null)[] = [null, ...SHAPES];
  const start = halfPowerPoints(data);
  const few = data.levelsDb.length >= COARSE_FROM_POINTS ? coarse(data) : data;
  const rough = sides
    .flatMap((high) => sides.map((low) => fitBand(few, high, low, start, few === data ? THOROUGH : ROUGH)))
    .sort((a, b) => a.chiSquare - b.chiSquare);
  if (few === data) return rough;
  return rough
    .filter((fit, rank) => rank < SHORTLIST || sidesOf(fit) < 2)
    .map((fit) => fitBand(data, fit.highPass, fit.lowPass, halfPowerOf(fit, start)));
}

/** Half-power points of a fit, to begin the next one from. */
function halfPowerOf(fit: BandFit, otherwise: Corners): Corners {
  const { highPass, lowPass, highPassHz, lowPassHz } = fit;
  return {
    highPassHz: highPass === null ? otherwise.highPassHz : highPassHz / highPass.halfPowerRatio,
    lowPassHz: lowPass === null ? otherwise.lowPassHz : lowPassHz * lowPass.halfPowerRatio,
  };
}

/** All pairs as analogue filters, or as digital ones at a rate. */
function allPairs(data: FitData, rateHz: number | null): BandFit[] {
  if (rateHz === null) return pairsOn(data);
  const frequenciesHz = data.frequenciesHz.map((hertz) => bilinearWarp(hertz, rateHz));
  return pairsOn({ ...data, frequenciesHz }).map((fit) => ({
    ...fit,
    highPassHz: unwarped(fit.highPassHz, rateHz),
    lowPassHz: unwarped(fit.lowPassHz, rateHz),
  }));
}

/** All of them, best first. A digital filter can only be told from an analogue one near its rate. */
export function candidatesFor(data: FitData): BandFit[] {
  const highestHz = data.frequenciesHz.at(-1)!;
  const rates = DIGITAL_RATES_HZ.filter(
    (rateHz) => highestHz > LOWEST_WARPED_SHARE * rateHz && highestHz < HIGHEST_WARPED_SHARE * rateHz,
  );
  const fits = [null, ...rates].flatMap((rateHz) => allPairs(data, rateHz));
  return fits.sort((a, b) => a.chiSquare - b.chiSquare);
}
