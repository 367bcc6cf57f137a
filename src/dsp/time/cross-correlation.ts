import FFT from 'fft.js';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { highestPlace } from './golden-section.ts';
import { SincInterpolator } from './sinc-interpolator.ts';

/** The uncertainty takes errors within a sixteenth of the band as one: reflections 1 to 10 ms late repeat every 100 Hz or more. */
const ERROR_GROUPS = 16;

export interface CorrelationOptions {
  sampleRateHz: number;
  /** `phat` levels every frequency (sharp, for echoes and coloured sources), `plain` leaves the sources' weight (for noise). */
  weighting: 'plain' | 'phat';
  /** Nothing outside counts; both signals should have something everywhere inside. */
  lowHz: number;
  highHz: number;
}

export interface CorrelationDelay {
  /** By how much the second signal is later than the first. */
  delaySeconds: number;
  delayUncertaintySeconds: number;
  /** Height of the peak, -1 to 1: 1 where the second is the first, delayed; negative where it is also turned over, or nearly so. */
  peak: number;
}

/**
 * Delay between two recordings of one source by generalised cross-correlation: C. Knapp and G. Carter, "The
 * generalized correlation method for estimation of time delay", IEEE Trans. ASSP 24(4) 1976. The absolute peak
 * (AES17-2015 6.8.2) is found between samples. The uncertainty is the sandwich of the scatter of phase over
 * frequency around a pure delay, in groups; what bends all of the phase alike it cannot see.
 *
 * @returns null where one of them is silent in the band, or a sample is no number
 * @throws RangeError for a band that the sample rate cannot hold
 */
export function correlationDelay(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: CorrelationOptions,
): CorrelationDelay | null {
  const { sampleRateHz, lowHz, highHz } = options;
  if (!(lowHz >= 0 && highHz > lowHz && highHz <= sampleRateHz / 2)) {
    throw new RangeError(`A band from ${lowHz} to ${highHz} Hz cannot be held at ${sampleRateHz} Hz.`);
  }
  const length = transformLength(first.length + second.length);
  const firstBin = Math.max(1, Math.ceil((lowHz * length) / sampleRateHz));
  const endBin = Math.min(length / 2, Math.floor((highHz * length) / sampleRateHz) + 1);
  const inverse = new FFT(length);
  const cross = crossSpectrum(first, second, length, firstBin, endBin, options.weighting);
  if (cross === null) return null;
  const correlation: number[] = inverse.createComplexArray();
  inverse.inverseTransform(correlation, cross.spectrum);
  // Ends of a ring: lag -1 stands behind the last.
  const half = length / 2;
  const lags = Float64Array.from({ length }, (_, at) => correlation[2 * ((at + half) % length)]! * length);
  let top = 0;
  for (let at = 0; at < length; at += 1) if (Math.abs(lags[at]!) > Math.abs(lags[top]!)) top = at;
  const sinc = new SincInterpolator();
  const sign = Math.sign(lags[top]!);
  const place = highestPlace((at) => sign * sinc.valueAt(lags, at), top - 1, top + 1);
  const frames = place - half;
  return {
    delaySeconds: frames / sampleRateHz,
    delayUncertaintySeconds:
      scatter(cross.spectrum, firstBin, endBin, (2 * Math.PI * frames) / length) *
      (length / (2 * Math.PI * sampleRateHz)),
    peak: sinc.valueAt(lags, place) / cross.weight,
  };
}

/** `second` times conjugate of `first`, weighted, over the band; `weight` is what the peak of a pure delay would reach. */
function crossSpectrum(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  length: number,
  firstBin: number,
  endBin: number,
  weighting: CorrelationOptions['weighting'],
): { spectrum: number[]; weight: number } | null {
  const fft = new RealFft(length);
  fft.input.set(first);
  fft.transform();
  const ofFirst = fft.spectrum.slice(0, length);
  fft.input.fill(0);
  fft.input.set(second);
  fft.transform();
  const spectrum = new Array<number>(2 * length).fill(0);
  let firstPower = 0;
  let secondPower = 0;
  let counted = 0;
  for (let bin = firstBin; bin < endBin; bin += 1) {
    const [a, b] = [ofFirst[2 * bin]!, ofFirst[2 * bin + 1]!];
    const [c, d] = [fft.spectrum[2 * bin]!, fft.spectrum[2 * bin + 1]!];
    const magnitude = weighting === 'phat' ? Math.hypot(a, b) * Math.hypot(c, d) : 1;
    firstPower += a * a + b * b;
    secondPower += c * c + d * d;
    if (magnitude === 0) continue;
    counted += 1;
    spectrum[2 * bin] = (a * c + b * d) / magnitude;
    spectrum[2 * bin + 1] = (a * d - b * c) / magnitude;
  }
  const weight = weighting === 'phat' ? counted : Math.sqrt(firstPower * secondPower);
  return firstPower > 0 && secondPower > 0 && Number.isFinite(weight) ? { spectrum, weight } : null;
}

/** Standard uncertainty of the delay, in radians per bin: linearised around the peak (K.-Y. Liang and S. Zeger 1986). */
function scatter(spectrum: number[], firstBin: number, endBin: number, radiansPerBin: number): number {
  const groups = new Float64Array(Math.min(ERROR_GROUPS, endBin - firstBin));
  let information = 0;
  for (let bin = firstBin; bin < endBin; bin += 1) {
    const angle = radiansPerBin * bin;
    const real = spectrum[2 * bin]! * Math.cos(angle) - spectrum[2 * bin + 1]! * Math.sin(angle);
    const imaginary = spectrum[2 * bin]! * Math.sin(angle) + spectrum[2 * bin + 1]! * Math.cos(angle);
    const group = Math.floor(((bin - firstBin) * groups.length) / (endBin - firstBin));
    groups[group]! += bin * imaginary;
    information += bin * bin * real;
  }
  let squares = 0;
  for (const score of groups) squares += score * score;
  const freedom = groups.length > 1 ? groups.length / (groups.length - 1) : 1;
  return Math.sqrt(squares * freedom) / Math.abs(information);
}
