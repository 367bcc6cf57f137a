import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { type Gate, gated } from './gate.ts';

/** Complex response on equally spaced bins, with the power that noise alone has there. */
export interface ResponseSpectrum {
  binHz: number;
  /** Hertz that one independent reading is wide: the gate's resolution. */
  resolutionHz: number;
  re: Float64Array;
  im: Float64Array;
  /** Expected `|noise|^2` in each bin. */
  noise: Float64Array;
}

/** The frames of a circular response that hold neither the response nor its harmonics. */
export interface QuietStretch {
  from: number;
  to: number;
}

const NOISE_GATES = 8;
/** Bins between the resolution's steps, so that a reading between two bins is nearly right. */
const OVERSAMPLING = 2;

/**
 * Spectrum of the gated response, phases counted from `arrival`; and of the noise, as the mean power that the same
 * gate lets through where there is nothing but noise.
 *
 * @param noiseGates at most so many stretches of noise are averaged
 */
export function responseSpectrum(
  response: Float64Array,
  sampleRateHz: number,
  arrival: number,
  gate: Gate,
  quiet: QuietStretch,
  noiseGates = NOISE_GATES,
): ResponseSpectrum {
  const whole = gate.before + gate.after;
  const fft = new RealFft(OVERSAMPLING * transformLength(whole));
  const bins = fft.length / 2 + 1;
  const re = new Float64Array(bins);
  const im = new Float64Array(bins);
  const noise = new Float64Array(bins);
  gated(response, arrival, gate, fft.input);
  fft.transform();
  for (let bin = 0; bin < bins; bin += 1) {
    re[bin] = fft.spectrum[2 * bin]!;
    im[bin] = fft.spectrum[2 * bin + 1]!;
  }
  const gates = Math.max(1, Math.min(noiseGates, Math.floor((quiet.to - quiet.from) / whole)));
  for (let number = 0; number < gates; number += 1) {
    gated(response, quiet.from + number * whole + gate.before, gate, fft.input);
    fft.transform();
    for (let bin = 0; bin < bins; bin += 1) {
      noise[bin] = noise[bin]! + (fft.spectrum[2 * bin]! ** 2 + fft.spectrum[2 * bin + 1]! ** 2) / gates;
    }
  }
  return {
    binHz: sampleRateHz / fft.length,
    resolutionHz: sampleRateHz / (0.75 * whole),
    re,
    im,
    noise,
  };
}

/** Response of `measured` over that of `reference`, as a chain ahead of both divides out; noise adds as it does. */
export function dividedBy(measured: ResponseSpectrum, reference: ResponseSpectrum): ResponseSpectrum {
  const bins = measured.re.length;
  const re = new Float64Array(bins);
  const im = new Float64Array(bins);
  const noise = new Float64Array(bins);
  for (let bin = 0; bin < bins; bin += 1) {
    const a = measured.re[bin]!;
    const b = measured.im[bin]!;
    const c = reference.re[bin]!;
    const d = reference.im[bin]!;
    const square = c * c + d * d;
    if (square === 0) {
      noise[bin] = Number.POSITIVE_INFINITY;
      continue;
    }
    re[bin] = (a * c + b * d) / square;
    im[bin] = (b * c - a * d) / square;
    const ratio = (a * a + b * b) / square;
    noise[bin] = (measured.noise[bin]! + ratio * reference.noise[bin]!) / square;
  }
  return { ...measured, re, im, noise };
}
