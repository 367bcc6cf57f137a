import { renderIdentification } from './identification.ts';
import { checkRate } from './limits.ts';
import { renderPink } from './pink.ts';
import { renderPolarity } from './polarity.ts';
import { renderSilence } from './silence.ts';
import { renderSine } from './sine.ts';
import type { ToneSpec } from './spec.ts';
import { renderSteps } from './steps.ts';
import { renderSweep } from './sweep.ts';

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

/** How long a tone lasts, without rendering it. */
export function toneSeconds(spec: ToneSpec): number {
  if (spec.kind !== 'steps') return spec.durationSeconds;
  const steps = spec.levelsDbfs.length;
  return steps * spec.stepSeconds + (steps - 1) * spec.pauseSeconds;
}
