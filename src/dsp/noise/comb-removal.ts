import { cosineWindow, HANN } from '../spectrum/cosine-windows.ts';

/** Lines are followed through windows this long: slow enough to leave all but 1 Hz around each as it was. */
const WINDOW_SECONDS = 1;

/**
 * The samples without the given steady lines: each is read under Hann windows that overlap by half, and
 * taken out under the same windows, whose sum is 1. Mains that drifts by a tenth of a hertz in minutes
 * goes as well as mains that does not.
 */
export function withoutLines(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  frequenciesHz: readonly number[],
): Float64Array {
  const rest = Float64Array.from(samples);
  const half = Math.floor((Math.min(WINDOW_SECONDS, samples.length / sampleRateHz / 2) * sampleRateHz) / 2);
  const window = cosineWindow(HANN, 2 * half);
  for (const frequencyHz of frequenciesHz) {
    const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
    for (let start = -half; start < samples.length; start += half) takeOut(samples, rest, window, start, w);
  }
  return rest;
}

function takeOut(
  samples: Float32Array | Float64Array,
  rest: Float64Array,
  window: Float64Array,
  start: number,
  w: number,
): void {
  const from = Math.max(0, start);
  const to = Math.min(samples.length, start + window.length);
  const stepCosine = Math.cos(w);
  const stepSine = Math.sin(w);
  let [cosine, sine] = [Math.cos(w * from), Math.sin(w * from)];
  let [re, im, total] = [0, 0, 0];
  for (let n = from; n < to; n += 1) {
    const weight = window[n - start]!;
    re += weight * samples[n]! * cosine;
    im += weight * samples[n]! * sine;
    total += weight;
    const turned = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = turned;
  }
  if (!(total > 0)) return;
  [cosine, sine] = [Math.cos(w * from), Math.sin(w * from)];
  const [a, b] = [(2 * re) / total, (2 * im) / total];
  for (let n = from; n < to; n += 1) {
    rest[n] = rest[n]! - window[n - start]! * (a * cosine + b * sine);
    const turned = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = turned;
  }
}
