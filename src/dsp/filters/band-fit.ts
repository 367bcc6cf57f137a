import { lossAt, type Shape } from './loss.ts';

/** What is fitted: levels with unknown gain, each with its weight. */
export interface FitData {
  frequenciesHz: Float64Array;
  levelsDb: Float64Array;
  /** 1 / variance, per dB^2. */
  weights: Float64Array;
}

/** A pair of shapes put through the data; `null` where that side has no filter. */
export interface BandFit {
  highPass: Shape | null;
  lowPass: Shape | null;
  /** Corners; NaN where there is no filter. */
  highPassHz: number;
  lowPassHz: number;
  gainDb: number;
  /** Standard uncertainty of ln fc, if the weights are right; NaN where there is no filter. */
  highPassSigma: number;
  lowPassSigma: number;
  /** Weighted sum of squared deviations. */
  chiSquare: number;
}

export interface Corners {
  highPassHz: number;
  lowPassHz: number;
}

/** When to stop. */
export interface Effort {
  mostSteps: number;
  /** Steps in ln fc below this are none. */
  settled: number;
}

export const THOROUGH: Effort = { mostSteps: 30, settled: 1e-7 };
/** Enough to see whether a pair is worth the whole. */
export const ROUGH: Effort = { mostSteps: 8, settled: 1e-2 };

/** No step moves a corner further than this in ln f. */
const LONGEST_STEP = 0.5;

interface Sums {
  gainDb: number;
  chiSquare: number;
  /** Normal equations of the two ln-corners, the gain already solved for. */
  hh: number;
  hl: number;
  ll: number;
  hr: number;
  lr: number;
}

/** Loss and slope of one side at every frequency. */
class Side {
  readonly shape: Shape | null;
  readonly losses: Float64Array;
  readonly slopes: Float64Array;
  readonly #sign: number;
  readonly #at = { lossDb: 0, perLogX: 0 };

  constructor(shape: Shape | null, highPass: boolean, points: number) {
    this.shape = shape;
    this.losses = new Float64Array(points);
    this.slopes = new Float64Array(points);
    this.#sign = highPass ? 1 : -1;
  }

  /** `x = (f/fc)^2` or its inverse, so d ln x / d ln fc is -2 or +2. */
  evaluate(frequenciesHz: Float64Array, cornerHz: number): void {
    if (this.shape === null) return;
    for (let i = 0; i < frequenciesHz.length; i += 1) {
      const ratio = frequenciesHz[i]! / cornerHz;
      lossAt(this.shape.loss, this.#sign > 0 ? 1 / (ratio * ratio) : ratio * ratio, this.#at);
      this.losses[i] = this.#at.lossDb;
      this.slopes[i] = 2 * this.#sign * this.#at.perLogX;
    }
  }
}

function sumsOf(data: FitData, high: Side, low: Side): Sums {
  const { levelsDb, weights } = data;
  let weight = 0;
  let level = 0;
  let slopeHigh = 0;
  let slopeLow = 0;
  for (let i = 0; i < levelsDb.length; i += 1) {
    const w = weights[i]!;
    weight += w;
    level += w * (levelsDb[i]! + high.losses[i]! + low.losses[i]!);
    slopeHigh += w * high.slopes[i]!;
    slopeLow += w * low.slopes[i]!;
  }
  const gainDb = level / weight;
  const sums: Sums = { gainDb, chiSquare: 0, hh: 0, hl: 0, ll: 0, hr: 0, lr: 0 };
  for (let i = 0; i < levelsDb.length; i += 1) {
    const w = weights[i]!;
    const deviation = levelsDb[i]! + high.losses[i]! + low.losses[i]! - gainDb;
    const h = high.slopes[i]! - slopeHigh / weight;
    const l = low.slopes[i]! - slopeLow / weight;
    sums.chiSquare += w * deviation * deviation;
    sums.hh += w * h * h;
    sums.hl += w * h * l;
    sums.ll += w * l * l;
    sums.hr += w * h * deviation;
    sums.lr += w * l * deviation;
  }
  return sums;
}

function limited(step: number): number {
  return Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));
}

/** Levenberg-Marquardt step of both ln-corners; 0 for a side without filter. */
function stepOf(sums: Sums, damping: number): { high: number; low: number } {
  const hh = sums.hh * (1 + damping);
  const ll = sums.ll * (1 + damping);
  const high = hh > 0;
  const low = ll > 0;
  if (high && low) {
    const determinant = hh * ll - sums.hl * sums.hl;
    if (determinant > 1e-12 * hh * ll) {
      return {
        high: limited((-sums.hr * ll + sums.lr * sums.hl) / determinant),
        low: limited((-sums.lr * hh + sums.hr * sums.hl) / determinant),
      };
    }
  }
  return { high: high ? limited(-sums.hr / hh) : 0, low: low ? limited(-sums.lr / ll) : 0 };
}

/**
 * Weighted least squares of gain and corners for one pair of shapes: Levenberg-Marquardt over ln fc, the gain solved
 * for in each step.
 *
 * @param start half-power points to begin from
 */
export function fitBand(
  data: FitData,
  highPass: Shape | null,
  lowPass: Shape | null,
  start: Corners,
  effort: Effort = THOROUGH,
): BandFit {
  const high = new Side(highPass, true, data.levelsDb.length);
  const low = new Side(lowPass, false, data.levelsDb.length);
  let highHz = start.highPassHz * (highPass?.halfPowerRatio ?? 1);
  let lowHz = start.lowPassHz / (lowPass?.halfPowerRatio ?? 1);
  high.evaluate(data.frequenciesHz, highHz);
  low.evaluate(data.frequenciesHz, lowHz);
  let sums = sumsOf(data, high, low);
  let damping = 1e-3;
  for (let number = 0; number < effort.mostSteps; number += 1) {
    const step = stepOf(sums, damping);
    const triedHigh = highHz * Math.exp(step.high);
    const triedLow = lowHz * Math.exp(step.low);
    high.evaluate(data.frequenciesHz, triedHigh);
    low.evaluate(data.frequenciesHz, triedLow);
    const tried = sumsOf(data, high, low);
    const size = Math.max(Math.abs(step.high), Math.abs(step.low));
    if (tried.chiSquare <= sums.chiSquare) {
      highHz = triedHigh;
      lowHz = triedLow;
      sums = tried;
      damping = Math.max(1e-9, damping / 5);
    } else damping *= 8;
    if (size < effort.settled || damping > 1e9) break;
  }
  return {
    highPass,
    lowPass,
    highPassHz: highPass === null ? Number.NaN : highHz,
    lowPassHz: lowPass === null ? Number.NaN : lowHz,
    gainDb: sums.gainDb,
    ...cornerSigmas(sums),
    chiSquare: sums.chiSquare,
  };
}

/** Square roots of the diagonal of the inverse of the normal matrix. */
function cornerSigmas({ hh, hl, ll }: Sums): { highPassSigma: number; lowPassSigma: number } {
  const shared = hh > 0 && ll > 0 ? (hl * hl) / (hh * ll) : 0;
  const sigma = (own: number) => (own > 0 ? 1 / Math.sqrt(own * (1 - shared)) : Number.NaN);
  return { highPassSigma: sigma(hh), lowPassSigma: sigma(ll) };
}
