import { dirichlet } from './dirichlet.ts';

/** `x = dc + Re((re + j im) exp(j w n))`, `n` from the first sample looked at. */
export interface KnownFrequencyFit {
  dc: number;
  re: number;
  im: number;
}

/**
 * Three-parameter least-squares fit of IEEE Std 1057: amplitude, phase and DC at a known frequency.
 *
 * @param from first sample
 * @param count how many; at least one cycle of the tone
 * @param w radians per frame
 */
export function fitAtKnownFrequency(
  samples: Float32Array | Float64Array,
  from: number,
  count: number,
  w: number,
  into: KnownFrequencyFit,
): KnownFrequencyFit {
  const middle = (count - 1) / 2;
  let cosine = Math.cos(w * middle);
  let sine = -Math.sin(w * middle);
  const stepCosine = Math.cos(w);
  const stepSine = Math.sin(w);
  let sum = 0;
  let sumCosine = 0;
  let sumSine = 0;
  for (let n = 0; n < count; n += 1) {
    const x = samples[from + n]!;
    sum += x;
    sumCosine += x * cosine;
    sumSine += x * sine;
    const turned = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = turned;
  }
  return solveKnownFrequency({ sum, cosine: sumCosine, sine: sumSine }, count, w, into);
}

/** Sums over samples, by themselves and with cosine and sine of `w u`, `u` frames from the samples' middle. */
export interface MiddleSums {
  sum: number;
  cosine: number;
  sine: number;
}

/** The fit that these sums over `count` samples give, from the first of them. */
export function solveKnownFrequency(
  sums: MiddleSums,
  count: number,
  w: number,
  into: KnownFrequencyFit,
): KnownFrequencyFit {
  const middle = (count - 1) / 2;
  // About the centre the sine column is odd, so it meets neither DC nor the cosine: only those two are coupled.
  const one = dirichlet(count, w);
  const two = dirichlet(count, 2 * w);
  const determinant = (count * (count + two)) / 2 - one * one;
  into.dc = (((count + two) / 2) * sums.sum - one * sums.cosine) / determinant;
  const re = (count * sums.cosine - one * sums.sum) / determinant;
  const im = (-2 * sums.sine) / (count - two);
  into.re = re * Math.cos(w * middle) + im * Math.sin(w * middle);
  into.im = im * Math.cos(w * middle) - re * Math.sin(w * middle);
  return into;
}
