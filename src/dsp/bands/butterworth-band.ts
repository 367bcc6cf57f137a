/**
 * Digital Butterworth band-pass of order 8 (four poles on each flank) by the bilinear transform, its edges
 * prewarped. In the variable `t = tan(pi f / fs)` its response is that of the analogue one exactly:
 *
 *     |H|^2 = 1 / (1 + v^8),  v = (t/t0 - t0/t) / width
 *
 * Four poles, because on the bilinear axis the low flank of the topmost bands is shallower, and three miss
 * class 1 there.
 */
const POLES = 4;

/** Biquads in a row, each with zeros at DC and Nyquist: `gain (1 - z^-2) / (1 + a1 z^-1 + a2 z^-2)`. */
export interface BandSections {
  gain: Float64Array;
  a1: Float64Array;
  a2: Float64Array;
}

export interface BandShape {
  /** Tangent of the centre. */
  t0: number;
  width: number;
}

/**
 * The shape whose noise bandwidth is the band's own, so that white noise reads alike here and in a sum of
 * bins: a little narrower than edges at -3 dB (which would read 0.11 dB too much). Flanks stay mirrored on
 * the warped axis: both edges are attenuated alike.
 *
 * @throws RangeError unless 0 < lowHz < highHz < sampleRateHz / 2
 */
export function bandShape(lowHz: number, highHz: number, sampleRateHz: number): BandShape {
  if (!(lowHz > 0 && lowHz < highHz && highHz < sampleRateHz / 2)) {
    throw new RangeError(`No band from ${lowHz} to ${highHz} Hz fits below half of ${sampleRateHz} Hz.`);
  }
  const low = Math.tan((Math.PI * lowHz) / sampleRateHz);
  const high = Math.tan((Math.PI * highHz) / sampleRateHz);
  const t0 = Math.sqrt(low * high);
  const edgeWidth = (high - low) / t0;
  const wanted = highHz - lowHz;
  let width = edgeWidth;
  // The noise bandwidth grows nearly in proportion: each turn leaves a small fraction of the error.
  for (let turn = 0; turn < 12; turn += 1) {
    width *= wanted / noiseBandwidthHz({ t0, width }, sampleRateHz);
  }
  return { t0, width };
}

/** Squared magnitude at a frequency from 0 to half the sample rate. */
export function bandResponse(shape: BandShape, frequencyHz: number, sampleRateHz: number): number {
  const t = Math.tan((Math.PI * frequencyHz) / sampleRateHz);
  const v = (t / shape.t0 - shape.t0 / t) / shape.width;
  return 1 / (1 + v ** (2 * POLES));
}

/**
 * Integral of the squared magnitude over frequency. With `v = tan(u)` the whole axis becomes a finite one,
 * and the trapezoid on a smooth periodic integrand is exact to rounding.
 */
function noiseBandwidthHz({ t0, width }: BandShape, sampleRateHz: number): number {
  const STEPS = 128;
  let sum = 0;
  for (let step = 0; step < STEPS; step += 1) {
    const u = (Math.PI * (step + 0.5)) / STEPS - Math.PI / 2;
    const v = Math.tan(u);
    // t/t0 - t0/t = width v  ->  t; then dt/dv and df/dt.
    const half = (width * v) / 2;
    const root = Math.sqrt(half * half + 1);
    const ratio = half >= 0 ? half + root : 1 / (root - half);
    const t = t0 * ratio;
    const dtByDv = (t0 * width) / (1 + 1 / (ratio * ratio));
    const dfByDt = sampleRateHz / Math.PI / (1 + t * t);
    sum += ((dfByDt * dtByDv) / (1 + v ** (2 * POLES))) * (1 + v * v);
  }
  return (sum * Math.PI) / STEPS;
}

/** Poles of the low-pass become pairs around the centre; each section is scaled to 1 at the centre. */
export function bandSections({ t0, width }: BandShape): BandSections {
  const gain = new Float64Array(POLES);
  const a1 = new Float64Array(POLES);
  const a2 = new Float64Array(POLES);
  for (let pair = 0; pair < POLES / 2; pair += 1) {
    const angle = (Math.PI * (2 * pair + 1 + POLES)) / (2 * POLES);
    const half = { re: (width / 2) * Math.cos(angle), im: (width / 2) * Math.sin(angle) };
    // s^2 - 2 half s + 1 = 0
    const root = squareRoot(half.re * half.re - half.im * half.im - 1, 2 * half.re * half.im);
    for (const side of [0, 1]) {
      const sign = 1 - 2 * side;
      const pole = digitalPole(t0 * (half.re + sign * root.re), t0 * (half.im + sign * root.im));
      const section = 2 * pair + side;
      a1[section] = -2 * pole.re;
      a2[section] = pole.re * pole.re + pole.im * pole.im;
      gain[section] = 1 / gainAtCentre(a1[section]!, a2[section]!, t0);
    }
  }
  return { gain, a1, a2 };
}

/** Bilinear: `z = (1 + s) / (1 - s)`. */
function digitalPole(re: number, im: number): { re: number; im: number } {
  const below = (1 - re) ** 2 + im * im;
  return { re: (1 - re * re - im * im) / below, im: (2 * im) / below };
}

/** Magnitude of `(1 - z^-2) / (1 + a1 z^-1 + a2 z^-2)` where `tan(w/2) = t0`. */
function gainAtCentre(a1: number, a2: number, t0: number): number {
  const w = 2 * Math.atan(t0);
  const re = 1 + a1 * Math.cos(w) + a2 * Math.cos(2 * w);
  const im = a1 * Math.sin(w) + a2 * Math.sin(2 * w);
  return (2 * Math.abs(Math.sin(w))) / Math.hypot(re, im);
}

function squareRoot(re: number, im: number): { re: number; im: number } {
  const size = Math.hypot(re, im);
  const root = Math.sqrt((size + Math.abs(re)) / 2);
  const other = im / (2 * root);
  return re >= 0 ? { re: root, im: other } : { re: Math.abs(other), im: im < 0 ? -root : root };
}
