import type { KnownFrequencyFit } from '../fit/known-frequency-fit.ts';

/**
 * What a fit at `w` radians per frame leaves of samples, windowed.
 *
 * Two phasors, a frame apart: one alone would wait at every sample for its own last turn.
 *
 * @param from first sample; as many as the window is long
 * @param into every `stride`th place from `place` on
 */
export function windowedResidual(
  samples: Float32Array | Float64Array,
  from: number,
  fit: Readonly<KnownFrequencyFit>,
  w: number,
  window: Float64Array,
  into: Float64Array,
  place: number,
  stride: number,
): void {
  const frames = window.length;
  const { dc } = fit;
  const stepCosine = Math.cos(2 * w);
  const stepSine = Math.sin(2 * w);
  let { re, im } = fit;
  let nextRe = re * Math.cos(w) - im * Math.sin(w);
  let nextIm = im * Math.cos(w) + re * Math.sin(w);
  let at = place;
  for (let n = 0; n + 1 < frames; n += 2) {
    into[at] = (samples[from + n]! - dc - re) * window[n]!;
    into[at + stride] = (samples[from + n + 1]! - dc - nextRe) * window[n + 1]!;
    at += 2 * stride;
    const turned = re * stepCosine - im * stepSine;
    im = im * stepCosine + re * stepSine;
    re = turned;
    const nextTurned = nextRe * stepCosine - nextIm * stepSine;
    nextIm = nextIm * stepCosine + nextRe * stepSine;
    nextRe = nextTurned;
  }
  if (frames % 2 === 1) into[at] = (samples[from + frames - 1]! - dc - re) * window[frames - 1]!;
}
