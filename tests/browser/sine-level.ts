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
function levelOfSine(
  samples: Float64Array,
  nearHz: number,
  rateHz: number,
): { levelDbfs: number; frequencyHz: number } {
  const half = Math.floor(samples.length / 2);
  const early = leastSquares(samples, 0, half, nearHz, rateHz);
  const late = leastSquares(samples, half, half, nearHz, rateHz);
  const turned = Math.atan2(early.sine, early.cosine) - Math.atan2(late.sine, late.cosine);
  const advance = Math.atan2(Math.sin(turned), Math.cos(turned));
  const frequencyHz = nearHz + (advance * rateHz) / (2 * Math.PI * half);
  const whole = leastSquares(samples, 0, samples.length, frequencyHz, rateHz);
  return { levelDbfs: 20 * Math.log10(Math.hypot(whole.cosine, whole.sine)), frequencyHz };
}

/**
 * The median over quarter seconds of the recording's second half: by then the
 * tone has come through, and one window with a gap (a busy machine underruns)
 * does not decide.
 */
export function settledSine(samples: Float64Array, nearHz: number, rateHz: number) {
  const frames = rateHz / 4;
  const windows: { levelDbfs: number; frequencyHz: number }[] = [];
  for (let start = Math.floor(samples.length / 2); start + frames <= samples.length; start += frames) {
    windows.push(levelOfSine(samples.subarray(start, start + frames), nearHz, rateHz));
  }
  windows.sort((a, b) => a.levelDbfs - b.levelDbfs);
  return windows[Math.floor(windows.length / 2)]!;
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
