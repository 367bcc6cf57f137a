import { checkSeconds } from './limits.ts';
import { checkSine, renderSine } from './sine.ts';
import type { SineSpec, StepsSpec } from './spec.ts';

/** First frame of each step. Steps begin on the frame nearest to their place in time, so rounding never adds up. */
export function stepStartFrames(spec: StepsSpec, sampleRateHz: number): number[] {
  const everySeconds = spec.stepSeconds + spec.pauseSeconds;
  return spec.levelsDbfs.map((_, step) => Math.round(step * everySeconds * sampleRateHz));
}

/** Frames from the first step to the last one's end. */
export function stepsFrames(spec: StepsSpec, sampleRateHz: number): number {
  return stepStartFrames(spec, sampleRateHz).at(-1)! + Math.round(spec.stepSeconds * sampleRateHz);
}

function sinesOf({ frequencyHz, levelsDbfs, stepSeconds: durationSeconds }: StepsSpec): SineSpec[] {
  return levelsDbfs.map((levelDbfs) => ({ kind: 'sine', frequencyHz, levelDbfs, durationSeconds }));
}

/** @throws RangeError as `renderSteps` does */
export function checkSteps(spec: StepsSpec, sampleRateHz: number): void {
  if (spec.levelsDbfs.length === 0) {
    throw new RangeError('Steps without a level cannot be rendered: at least one level in dBFS is needed.');
  }
  checkSeconds('Each step', spec.stepSeconds, 0.05);
  checkSeconds('The pause between steps', spec.pauseSeconds, 0);
  for (const sine of sinesOf(spec)) checkSine(sine, sampleRateHz);
}

/** Each step is a whole sine of its own, from phase 0, faded at both ends; exact zeros between. */
export function renderSteps(spec: StepsSpec, sampleRateHz: number): Float64Array {
  checkSteps(spec, sampleRateHz);
  const starts = stepStartFrames(spec, sampleRateHz);
  const sines = sinesOf(spec).map((sine) => renderSine(sine, sampleRateHz));
  const samples = new Float64Array(stepsFrames(spec, sampleRateHz));
  // Steps that touch may share one frame of exact zero by rounding; adding keeps both.
  for (const [step, sine] of sines.entries()) {
    const start = starts[step]!;
    for (let frame = 0; frame < sine.length; frame += 1) samples[start + frame]! += sine[frame]!;
  }
  return samples;
}
