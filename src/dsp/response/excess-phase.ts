/**
 * What a response's phase holds beyond its filters: the delay of its arrival, and two clocks that run at different
 * rates. A sweep stretched by `1 + e` reaches frequency f later by `e L ln(f/f1)`, so its phase bends by
 * `-2 pi e L (f ln(f/f1) - f)` (from the group delay, integrated).
 */

import { type Filter, filterResponse } from '../filters/filter-response.ts';
import { solveThree } from '../linear-systems/solve-three.ts';
import { binsAround } from './curve.ts';
import type { ResponseSpectrum } from './response-spectrum.ts';

/** Quartz clocks lie within some 100 ppm of each other; twice that is the prior, for bands too narrow to tell. */
const CLOCK_SPREAD = 200e-6;
/** Bins below this do not tell their phase from the next turn. */
const LEAST_SNR = 10 ** 1.2;

export interface ExcessPhase {
  /** Beyond the frame that phases were counted from. */
  delaySeconds: number;
  /** Recorder's clock over player's, less 1; 0 where it was not asked for. */
  clockSkew: number;
}

/** The sweep's law: where it begins, and its `L`. */
export interface SweepTiming {
  startHz: number;
  growthSeconds: number;
}

function bend(frequencyHz: number, timing: SweepTiming): number {
  const { startHz, growthSeconds } = timing;
  return growthSeconds * (frequencyHz * Math.log(frequencyHz / startHz) - frequencyHz);
}

interface PhaseRow {
  frequencyHz: number;
  /** Unwrapped, radians, the filters' own phase taken off. */
  phase: number;
  weight: number;
}

function phaseRows(
  spectrum: ResponseSpectrum,
  filters: readonly Filter[],
  lowHz: number,
  highHz: number,
): PhaseRow[] {
  const rows: PhaseRow[] = [];
  const first = Math.max(1, Math.ceil(lowHz / spectrum.binHz));
  const last = Math.min(Math.floor(highHz / spectrum.binHz), spectrum.re.length - 2);
  let previous = 0;
  for (let bin = first; bin <= last; bin += 1) {
    const frequencyHz = bin * spectrum.binHz;
    const power = spectrum.re[bin]! ** 2 + spectrum.im[bin]! ** 2;
    const snr = power / (spectrum.noise[bin]! + 1e-9 * power);
    if (!(snr > LEAST_SNR)) continue;
    let phase = Math.atan2(spectrum.im[bin]!, spectrum.re[bin]!);
    for (const filter of filters) {
      const value = filterResponse(filter, frequencyHz);
      phase -= Math.atan2(value.im, value.re);
    }
    if (rows.length > 0) phase += 2 * Math.PI * Math.round((previous - phase) / (2 * Math.PI));
    previous = phase;
    // A wide band has most of its bins at the top: every octave counts alike.
    rows.push({ frequencyHz, phase, weight: Math.min(snr, 1e4) / bin });
  }
  return rows;
}

/**
 * @param filters what was found in the response
 * @param withSkew only where the filters explain the response: a phase of unknown making bends too
 * @returns `null` where too little of the band stands out of the noise
 */
export function excessPhase(
  spectrum: ResponseSpectrum,
  filters: readonly Filter[],
  band: { lowHz: number; highHz: number },
  timing: SweepTiming,
  withSkew: boolean,
): ExcessPhase | null {
  const rows = phaseRows(spectrum, filters, band.lowHz, band.highHz);
  if (rows.length < 4) return null;
  const solve = (offset: number | null): Float64Array => {
    const matrix = new Float64Array(9);
    const right = new Float64Array(3);
    for (const { frequencyHz, phase, weight } of rows) {
      const columns = [
        offset === null ? 1 : 0,
        -2 * Math.PI * frequencyHz,
        withSkew ? -2 * Math.PI * bend(frequencyHz, timing) * CLOCK_SPREAD : 0,
      ];
      const target = phase - (offset ?? 0);
      for (let i = 0; i < 3; i += 1) {
        right[i] = right[i]! + weight * columns[i]! * target;
        for (let j = 0; j < 3; j += 1) matrix[3 * i + j]! += weight * columns[i]! * columns[j]!;
      }
    }
    if (withSkew) matrix[8]! += 1;
    return solveThree(matrix, right);
  };
  // A chain of filters starts at 0 degrees, or at 180 where a wire is crossed; nothing between.
  const free = solve(null);
  const [, delaySeconds, skew] = solve(Math.PI * Math.round(free[0]! / Math.PI));
  return { delaySeconds: delaySeconds!, clockSkew: skew! * CLOCK_SPREAD };
}

/**
 * Phase at a frequency with the excess taken off, from above -180 up to 180 degrees; `null` where noise hides it.
 */
export function phaseDeg(
  spectrum: ResponseSpectrum,
  frequencyHz: number,
  excess: ExcessPhase,
  timing: SweepTiming,
): number | null {
  const [from, to] = binsAround(spectrum, frequencyHz, 1 / 24);
  let re = 0;
  let im = 0;
  let noise = 0;
  for (let bin = from; bin < to; bin += 1) {
    const hertz = bin * spectrum.binHz;
    const turn = 2 * Math.PI * (excess.delaySeconds * hertz + excess.clockSkew * bend(hertz, timing));
    const cos = Math.cos(turn);
    const sin = Math.sin(turn);
    re += spectrum.re[bin]! * cos - spectrum.im[bin]! * sin;
    im += spectrum.re[bin]! * sin + spectrum.im[bin]! * cos;
    noise += spectrum.noise[bin]!;
  }
  if (!(re * re + im * im > 2 * noise)) return null;
  const degrees = (Math.atan2(im, re) * 180) / Math.PI;
  return degrees === -180 ? 180 : degrees;
}
