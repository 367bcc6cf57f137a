import { fadeEnds } from './fade.ts';
import { sinePeak } from './level.ts';
import { checkFrequency, checkLevel, checkSeconds } from './limits.ts';
import { phaseCycles, sineOfCycles } from './phase.ts';
import type { SineSpec } from './spec.ts';

/** @throws RangeError as `renderSine` does */
export function checkSine(spec: SineSpec, sampleRateHz: number): void {
  checkFrequency(spec.frequencyHz, sampleRateHz);
  checkLevel(spec.levelDbfs);
  checkSeconds('A sine', spec.durationSeconds, 0.05);
}

/** Starts at phase 0, faded at both ends; between the fades its peak is exactly the level's. */
export function renderSine(spec: SineSpec, sampleRateHz: number): Float64Array {
  checkSine(spec, sampleRateHz);
  const samples = new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
  const peak = sinePeak(spec.levelDbfs);
  for (let frame = 0; frame < samples.length; frame += 1) {
    samples[frame] = peak * sineOfCycles(phaseCycles(spec.frequencyHz, frame, sampleRateHz));
  }
  fadeEnds(samples, sampleRateHz);
  return samples;
}
