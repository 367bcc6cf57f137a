import { checkIdentification, renderIdentification } from './identification.ts';
import { checkRate } from './limits.ts';
import { checkPink, renderPink } from './pink.ts';
import { checkPolarity, renderPolarity } from './polarity.ts';
import { checkSilence, renderSilence } from './silence.ts';
import { checkSine, renderSine } from './sine.ts';
import type { ToneSpec } from './spec.ts';
import { checkSteps, renderSteps, stepsFrames } from './steps.ts';
import { checkSweep, renderSweep } from './sweep.ts';

/**
 * One channel of any tone, full scale 1.0, nothing beyond it.
 *
 * @throws RangeError with one sentence for a spec that cannot be rendered as asked
 */
export function renderTone(spec: ToneSpec, sampleRateHz: number): Float64Array {
  checkRate(sampleRateHz);
  switch (spec.kind) {
    case 'sine':
      return renderSine(spec, sampleRateHz);
    case 'silence':
      return renderSilence(spec, sampleRateHz);
    case 'steps':
      return renderSteps(spec, sampleRateHz);
    case 'pink':
      return renderPink(spec, sampleRateHz);
    case 'sweep':
      return renderSweep(spec, sampleRateHz);
    case 'polarity':
      return renderPolarity(spec, sampleRateHz);
    case 'identification':
      return renderIdentification(spec, sampleRateHz);
  }
}

/** @throws RangeError as `renderTone` does, without rendering: all but pink noise whose peaks pass full scale */
export function checkToneSpec(spec: ToneSpec, sampleRateHz: number): void {
  checkRate(sampleRateHz);
  switch (spec.kind) {
    case 'sine':
      checkSine(spec, sampleRateHz);
      break;
    case 'silence':
      checkSilence(spec);
      break;
    case 'steps':
      checkSteps(spec, sampleRateHz);
      break;
    case 'pink':
      checkPink(spec, sampleRateHz);
      break;
    case 'sweep':
      checkSweep(spec, sampleRateHz);
      break;
    case 'polarity':
      checkPolarity(spec, sampleRateHz);
      break;
    case 'identification':
      checkIdentification(spec, sampleRateHz);
  }
}

/** How long a tone lasts, without rendering it. */
export function toneSeconds(spec: ToneSpec): number {
  if (spec.kind !== 'steps') return spec.durationSeconds;
  const steps = spec.levelsDbfs.length;
  return steps * spec.stepSeconds + (steps - 1) * spec.pauseSeconds;
}

/** How many frames `renderTone` makes of it. */
export function toneFrames(spec: ToneSpec, sampleRateHz: number): number {
  return spec.kind === 'steps'
    ? stepsFrames(spec, sampleRateHz)
    : Math.round(spec.durationSeconds * sampleRateHz);
}
