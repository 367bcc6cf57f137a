import { fadeEnds } from './fade.ts';
import { sinePeak } from './level.ts';
import { checkBand, checkLevel, checkSeconds } from './limits.ts';
import { sineOfCycles } from './phase.ts';
import type { SweepSpec } from './spec.ts';

/** Seconds in which the sweep's frequency grows by a factor of e: the `L` of Farina's formula. */
function sweepGrowthSeconds(spec: SweepSpec): number {
  return spec.durationSeconds / Math.log(spec.endHz / spec.startHz);
}

/** @throws RangeError as `renderSweep` does */
export function checkSweep(spec: SweepSpec, sampleRateHz: number): void {
  checkBand(spec.startHz, spec.endHz, sampleRateHz);
  checkLevel(spec.levelDbfs);
  checkSeconds('A sweep', spec.durationSeconds, 0.1);
}

/**
 * Exponential sweep, `sin(2 pi f1 L (e^(t/L) - 1))` with `L = T / ln(f2/f1)`:
 * A. Farina, AES 108th Convention, Paris 2000, preprint 5093. Harmonic N of
 * the device under test arrives `L ln N` ahead of the linear response.
 *
 * The ends are faded like every tone's: a sweep from 20 Hz loses a third of a
 * cycle there, and nothing above.
 */
export function renderSweep(spec: SweepSpec, sampleRateHz: number): Float64Array {
  checkSweep(spec, sampleRateHz);
  const growthSeconds = sweepGrowthSeconds(spec);
  const peak = sinePeak(spec.levelDbfs);
  const samples = new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
  for (let frame = 0; frame < samples.length; frame += 1) {
    const turns = spec.startHz * growthSeconds * Math.expm1(frame / (sampleRateHz * growthSeconds));
    samples[frame] = peak * sineOfCycles(turns - Math.floor(turns));
  }
  fadeEnds(samples, sampleRateHz);
  return samples;
}
