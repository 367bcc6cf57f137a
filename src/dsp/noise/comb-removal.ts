import { cosineWindow, HANN } from '../spectrum/cosine-windows.ts';

/** Lines are followed through windows about this long: slow enough to leave all but 1 Hz around each as it was. */
const WINDOW_SECONDS = 1;

/** Half a window at either end tells lines 50 Hz apart by 38 dB only, so its remains are taken out this often. */
const END_PASSES = 3;

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
  // A whole number of half windows, so that no crumb of one is left over at the end.
  const halves = Math.max(4, Math.round((2 * samples.length) / (WINDOW_SECONDS * sampleRateHz)));
  const half = Math.floor(samples.length / halves);
  const window = cosineWindow(HANN, 2 * half);
  const turns = frequenciesHz.map((frequencyHz) => (2 * Math.PI * frequencyHz) / sampleRateHz);
  for (const w of turns) {
    for (let start = -half; start < samples.length; start += half)
      takeOut(samples, rest, window, start, w, (weight) => weight);
  }
  for (let pass = 0; pass < END_PASSES; pass += 1) {
    for (const w of turns) {
      // What is left at the ends has the window's own shape.
      for (const start of [-half, (halves - 1) * half])
        takeOut(rest, rest, window, start, w, (weight) => weight * weight);
    }
  }
  return rest;
}

/** @param norm what a line that is to be found adds to the sum, by the window's weight */
function takeOut(
  samples: Float32Array | Float64Array,
  rest: Float64Array,
  window: Float64Array,
  start: number,
  w: number,
  norm: (weight: number) => number,
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
    total += norm(weight);
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
