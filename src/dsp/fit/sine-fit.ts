import { type FittedLine, fittedLine } from './fitted-line.ts';
import { type JointFit, jointFit } from './joint-fit.ts';
import type { LineOrders } from './line-normal.ts';

/** Lines fitted together, DC with them. */
export interface FittedLines {
  /** In the order asked for. */
  lines: FittedLine[];
  /** Mean that the fit found, full scale 1.0. */
  dc: number;
  /** RMS of what the fit leaves, the unknowns' share given back, full scale 1.0. */
  residualRms: number;
  /** What the fit leaves, sample by sample. */
  residual: Float64Array;
}

/**
 * Three-parameter fit of IEEE Std 1057: amplitude, phase and DC of a sine whose frequency is known.
 * Silence gives an amplitude of 0 with a phase of no meaning.
 *
 * @returns `null` where the record cannot tell (fewer samples than unknowns, less than about half a cycle, NaN)
 */
export function fitThreeParameters(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  frequencyHz: number,
): FittedLines | null {
  return inHertz(jointFit(samples, [[1]], [radians(frequencyHz, sampleRateHz)], false), sampleRateHz);
}

/**
 * Four-parameter fit of IEEE Std 1057: the frequency as well.
 *
 * @param startHz within half a bin (half the rate over the number of samples) of the tone
 * @returns `null` where there is no line near it
 */
export function fitFourParameters(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  startHz: number,
): FittedLines | null {
  return inHertz(jointFit(samples, [[1]], [radians(startHz, sampleRateHz)], true), sampleRateHz);
}

/**
 * A sine and its harmonics in one fit: every harmonic helps to find the frequency.
 *
 * @param startHz of the fundamental, within half a bin divided by `highestOrder`
 * @param highestOrder from 1 up; orders at or above half the sample rate are left out
 */
export function fitHarmonics(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  startHz: number,
  highestOrder: number,
): FittedLines | null {
  const held = Math.min(highestOrder, Math.ceil(sampleRateHz / 2 / startHz) - 1);
  const orders = Array.from({ length: held }, (_, at) => [at + 1]);
  return inHertz(jointFit(samples, orders, [radians(startHz, sampleRateHz)], true), sampleRateHz);
}

/**
 * Lines at whole-number sums of several unknown frequencies, all fitted together.
 *
 * @param startHz of each base frequency, within half a bin
 */
export function fitCombinations(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  startHz: readonly number[],
  orders: LineOrders,
): FittedLines | null {
  const bases = startHz.map((hz) => radians(hz, sampleRateHz));
  return inHertz(jointFit(samples, orders, bases, true), sampleRateHz);
}

function radians(frequencyHz: number, sampleRateHz: number): number {
  return (2 * Math.PI * frequencyHz) / sampleRateHz;
}

function inHertz(fit: JointFit | null, sampleRateHz: number): FittedLines | null {
  if (fit === null) return null;
  return {
    lines: fit.orders.map((_, k) => fittedLine(fit, k, sampleRateHz)),
    dc: fit.at.dc,
    residualRms: Math.sqrt(fit.noiseVariance),
    residual: fit.residual,
  };
}
