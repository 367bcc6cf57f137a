/** Plain readings of a recording, independent of the analyser under test. */

interface Fit {
  cosine: number;
  sine: number;
}

function leastSquares(samples: Float64Array, from: number, frames: number, hz: number, rateHz: number): Fit {
  let cc = 0;
  let cs = 0;
  let ss = 0;
  let xc = 0;
  let xs = 0;
  for (let n = from; n < from + frames; n += 1) {
    const c = Math.cos((2 * Math.PI * hz * n) / rateHz);
    const s = Math.sin((2 * Math.PI * hz * n) / rateHz);
    cc += c * c;
    cs += c * s;
    ss += s * s;
    xc += samples[n]! * c;
    xs += samples[n]! * s;
  }
  const determinant = cc * ss - cs * cs;
  return { cosine: (xc * ss - xs * cs) / determinant, sine: (xs * cc - xc * cs) / determinant };
}

/**
 * Level (dB against a full-scale sine) and frequency of a sine near `nearHz`:
 * least squares over each half, the phase's advance between them giving the
 * frequency. Right while `nearHz` is within a quarter of a cycle per half.
 */
function sineIn(samples: Float64Array, nearHz: number, rateHz: number) {
  const half = Math.floor(samples.length / 2);
  const early = leastSquares(samples, 0, half, nearHz, rateHz);
  const late = leastSquares(samples, half, half, nearHz, rateHz);
  const turned = Math.atan2(early.sine, early.cosine) - Math.atan2(late.sine, late.cosine);
  const advance = Math.atan2(Math.sin(turned), Math.cos(turned));
  const frequencyHz = nearHz + (advance * rateHz) / (2 * Math.PI * half);
  const whole = leastSquares(samples, 0, samples.length, frequencyHz, rateHz);
  let rest = 0;
  for (let n = 0; n < samples.length; n += 1) {
    const angle = (2 * Math.PI * frequencyHz * n) / rateHz;
    rest += (samples[n]! - whole.cosine * Math.cos(angle) - whole.sine * Math.sin(angle)) ** 2;
  }
  const peak = Math.hypot(whole.cosine, whole.sine);
  return { levelDbfs: 20 * Math.log10(peak), frequencyHz, impurity: Math.sqrt(rest / samples.length) / peak };
}

/**
 * The purest tenth of a second in the recording's second half, by which time
 * the tone has come through. A sound server on a busy machine leaves gaps; they
 * spoil the purity of the windows they touch, and a wrong level does not.
 */
export function settledSine(samples: Float64Array, nearHz: number, rateHz: number) {
  const frames = rateHz / 10;
  let purest = { levelDbfs: Number.NaN, frequencyHz: Number.NaN, impurity: Number.POSITIVE_INFINITY };
  for (let start = Math.floor(samples.length / 2); start + frames <= samples.length; start += frames / 4) {
    const found = sineIn(samples.subarray(start, start + frames), nearHz, rateHz);
    if (found.impurity < purest.impurity) purest = found;
  }
  return purest;
}

/** RMS of the loudest tenth of a second, dB against a full-scale sine. */
export function loudestPart(samples: Float64Array, rateHz: number): number {
  const frames = rateHz / 10;
  let highest = 1e-20;
  for (let start = 0; start + frames <= samples.length; start += frames) {
    let sum = 0;
    for (let n = start; n < start + frames; n += 1) sum += samples[n]! ** 2;
    highest = Math.max(highest, (2 * sum) / frames);
  }
  return 10 * Math.log10(highest);
}
