import { CoarseToneFinder } from '../fit/coarse-tone.ts';
import type { FittedLine } from '../fit/fitted-line.ts';
import { fitCombinations } from '../fit/sine-fit.ts';

/** Products up to this order are fitted, so that those read are free of what the others leak. */
const HIGHEST_ORDER = 5;

/** Products nearer to each other, to DC or to half the sample rate than this many bins are not told apart. */
const LEAST_SPACING_BINS = 1.5;

/** The two tones of an intermodulation test with everything that their mixing makes. */
export interface TwoToneProducts {
  /** The lower tone. */
  low: FittedLine;
  high: FittedLine;
  /** Line at `timesLow` low + `timesHigh` high; `null` where it was not fitted (outside the band, or on top of another). */
  at(timesLow: number, timesHigh: number): FittedLine | null;
  /** RMS of what is neither tone nor product, full scale 1.0. */
  residualRms: number;
}

/**
 * Fits two tones and their products up to the fifth order in one go, frequencies included.
 *
 * Products that fold back at half the sample rate are not looked for: a stage that makes them in the
 * analogue world has its low-pass behind it.
 *
 * @param samples full scale 1.0; ten cycles and more of the lowest product, for all of them to stand apart
 * @param lowHz about where the lower tone is, within 3 %
 * @returns `null` where the two tones are not found; silence and NaN give `null`
 */
export function fitTwoTones(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  lowHz: number,
  highHz: number,
): TwoToneProducts | null {
  const finder = new CoarseToneFinder(samples.length, sampleRateHz);
  const starts = [lowHz, highHz].map((hz) => finder.find(samples, hz)?.frequencyHz ?? Number.NaN);
  const [low, high] = starts as [number, number];
  const binHz = sampleRateHz / samples.length;
  if (!(high - low > LEAST_SPACING_BINS * binHz)) return null;
  const tones = fitCombinations(samples, sampleRateHz, starts, TONES);
  if (tones === null) return null;
  const bases = tones.lines.map((line) => line.frequencyHz);
  const orders = productsApart(bases, LEAST_SPACING_BINS * binHz, sampleRateHz);
  const fitted = fitCombinations(samples, sampleRateHz, bases, orders);
  if (fitted === null) return null;
  return {
    low: fitted.lines[0]!,
    high: fitted.lines[1]!,
    at: (timesLow, timesHigh) =>
      fitted.lines[orders.findIndex(([a, b]) => a === timesLow && b === timesHigh)] ?? null,
    residualRms: fitted.residualRms,
  };
}

const TONES = [
  [1, 0],
  [0, 1],
] as const;

/** Whole-number sums of the two tones, lower orders first, whose frequencies keep clear of each other and of the ends. */
function productsApart(
  bases: readonly number[],
  spacingHz: number,
  sampleRateHz: number,
): (readonly [number, number])[] {
  const kept: (readonly [number, number])[] = [];
  const taken: number[] = [0, sampleRateHz / 2];
  for (let order = 1; order <= HIGHEST_ORDER; order += 1) {
    for (let timesLow = order; timesLow >= -order; timesLow -= 1) {
      const rest = order - Math.abs(timesLow);
      for (const timesHigh of rest === 0 ? [0] : [rest, -rest]) {
        const hz = timesLow * bases[0]! + timesHigh * bases[1]!;
        if (hz <= 0 || hz >= sampleRateHz / 2) continue;
        if (taken.some((other) => Math.abs(other - hz) < spacingHz)) continue;
        taken.push(hz);
        kept.push([timesLow, timesHigh]);
      }
    }
  }
  return kept;
}
