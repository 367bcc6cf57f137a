import { checkSeconds } from './limits.ts';
import { renderSine } from './sine.ts';
import type { StepsSpec } from './spec.ts';

/** First frame of each step. Steps begin on the frame nearest to their place in time, so rounding never adds up. */
export function stepStartFrames(spec: StepsSpec, sampleRateHz: number): number[] {
  const everySeconds = spec.stepSeconds + spec.pauseSeconds;
  return spec.levelsDbfs.map((_, step) => Math.round(step * everySeconds * sampleRateHz));
}

/** Each step is a whole sine of its own, from phase 0, faded at both ends; exact zeros between. */
export function renderSteps(spec: StepsSpec, sampleRateHz: number): Float64Array {
  if (spec.levelsDbfs.length === 0) {
    throw new RangeError('Steps without a level cannot be rendered: at least one level in dBFS is needed.');
  }
  checkSeconds('Each step', spec.stepSeconds, 0.05);
  checkSeconds('The pause between steps', spec.pauseSeconds, 0);
  const { frequencyHz, stepSeconds: durationSeconds } = spec;
  const starts = stepStartFrames(spec, sampleRateHz);
  const sines = spec.levelsDbfs.map((levelDbfs) =>
    renderSine({ kind: 'sine', frequencyHz, levelDbfs, durationSeconds }, sampleRateHz),
  );
  const samples = new Float64Array(starts.at(-1)! + sines[0]!.length);
  // Steps that touch may share one frame of exact zero by rounding; adding keeps both.
  for (const [step, sine] of sines.entries()) {
    const start = starts[step]!;
    for (let frame = 0; frame < sine.length; frame += 1) samples[start + frame]! += sine[frame]!;
  }
  return samples;
}
