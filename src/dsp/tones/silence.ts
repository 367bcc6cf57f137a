import { checkSeconds } from './limits.ts';
import type { SilenceSpec } from './spec.ts';

/** @throws RangeError as `renderSilence` does */
export function checkSilence(spec: SilenceSpec): void {
  checkSeconds('A silence', spec.durationSeconds, 0.001);
}

/** Exact zeros. */
export function renderSilence(spec: SilenceSpec, sampleRateHz: number): Float64Array {
  checkSilence(spec);
  return new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
}
