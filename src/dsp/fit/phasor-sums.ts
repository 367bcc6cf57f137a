/** Sums of samples against one frequency, `u` frames from the centre of the samples. */
export interface PhasorSums {
  /** `sum of x cos(w u)`. */
  cosine: number;
  sine: number;
  /** `sum of u x cos(w u)`. */
  slopeCosine: number;
  slopeSine: number;
}

/** The rotating phasor is set anew this often, so that its rounding never grows: 1e-13 at most. */
const RUN_FRAMES = 512;

/** @param w radians per frame */
export function phasorSums(samples: ArrayLike<number>, w: number, into: PhasorSums): PhasorSums {
  const middle = (samples.length - 1) / 2;
  const stepCosine = Math.cos(w);
  const stepSine = Math.sin(w);
  let sumCosine = 0;
  let sumSine = 0;
  let slopeCosine = 0;
  let slopeSine = 0;
  for (let from = 0; from < samples.length; from += RUN_FRAMES) {
    const to = Math.min(samples.length, from + RUN_FRAMES);
    let cosine = Math.cos(w * (from - middle));
    let sine = Math.sin(w * (from - middle));
    for (let n = from; n < to; n += 1) {
      const re = samples[n]! * cosine;
      const im = samples[n]! * sine;
      sumCosine += re;
      sumSine += im;
      slopeCosine += (n - middle) * re;
      slopeSine += (n - middle) * im;
      const turned = cosine * stepCosine - sine * stepSine;
      sine = sine * stepCosine + cosine * stepSine;
      cosine = turned;
    }
  }
  into.cosine = sumCosine;
  into.sine = sumSine;
  into.slopeCosine = slopeCosine;
  into.slopeSine = slopeSine;
  return into;
}

/** Takes `cosine cos(w u) + sine sin(w u)` out of the samples in place. */
export function subtractPhasor(samples: Float64Array, w: number, cosine: number, sine: number): void {
  const middle = (samples.length - 1) / 2;
  const stepCosine = Math.cos(w);
  const stepSine = Math.sin(w);
  for (let from = 0; from < samples.length; from += RUN_FRAMES) {
    const to = Math.min(samples.length, from + RUN_FRAMES);
    const turn = w * (from - middle);
    let value = cosine * Math.cos(turn) + sine * Math.sin(turn);
    let quadrature = sine * Math.cos(turn) - cosine * Math.sin(turn);
    for (let n = from; n < to; n += 1) {
      samples[n] = samples[n]! - value;
      const turned = value * stepCosine + quadrature * stepSine;
      quadrature = quadrature * stepCosine - value * stepSine;
      value = turned;
    }
  }
}
