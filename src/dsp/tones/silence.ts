import { checkSeconds } from './limits.ts';
import type { SilenceSpec } from './spec.ts';

/** Exact zeros. */
export function renderSilence(spec: SilenceSpec, sampleRateHz: number): Float64Array {
  checkSeconds('A silence', spec.durationSeconds, 0.001);
  return new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
}
