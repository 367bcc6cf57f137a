import type { JointFit } from './joint-fit.ts';
import { lineFrequency } from './line-normal.ts';
import { wrappedPhase } from './wrapped-phase.ts';

/** One line of a joint fit, with standard uncertainties (k = 1) from white noise of the residual's size. */
export interface FittedLine {
  frequencyHz: number;
  /** Peak, full scale 1.0. */
  amplitude: number;
  /** Of a cosine at the first sample, -pi to pi. */
  phaseRadians: number;
  uncertainty: {
    /** 0 where the frequency was given. */
    frequencyHz: number;
    amplitude: number;
    phaseRadians: number;
  };
}

/** @param k which line of the fit, in the order they were asked for */
export function fittedLine(fit: JointFit, k: number, sampleRateHz: number): FittedLine {
  const order = fit.orders[k]!;
  const cosine = fit.at.cosine[k]!;
  const sine = fit.at.sine[k]!;
  const amplitude = Math.hypot(cosine, sine);
  const w = lineFrequency(order, fit.at.bases);
  const toFirst = (fit.frames - 1) / 2;
  const phase = Math.atan2(-sine, cosine) - w * toFirst;
  const firstBase = 1 + 2 * fit.orders.length;
  const frequency = new Map(order.map((times, j) => [firstBase + j, times] as const));
  const size = new Map([
    [1 + 2 * k, cosine / amplitude],
    [2 + 2 * k, sine / amplitude],
  ]);
  const turn = new Map([
    [1 + 2 * k, sine / (amplitude * amplitude)],
    [2 + 2 * k, -cosine / (amplitude * amplitude)],
    ...order.map((times, j) => [firstBase + j, -times * toFirst] as const),
  ]);
  const hzPerRadian = sampleRateHz / (2 * Math.PI);
  return {
    frequencyHz: w * hzPerRadian,
    amplitude,
    phaseRadians: wrappedPhase(phase),
    uncertainty: {
      frequencyHz: hzPerRadian * propagated(fit, frequency),
      amplitude: propagated(fit, size),
      phaseRadians: propagated(fit, turn),
    },
  };
}

/** Law of propagation (JCGM 100, 5.2.2), correlations included: unknown by unknown, how much the result moves with it. */
function propagated(fit: JointFit, sensitivities: ReadonlyMap<number, number>): number {
  const size = 1 + 2 * fit.orders.length + fit.at.bases.length;
  let variance = 0;
  for (const [row, left] of sensitivities) {
    for (const [column, right] of sensitivities)
      variance += left * right * fit.covariance[row * size + column]!;
  }
  return Math.sqrt(Math.max(0, variance));
}
