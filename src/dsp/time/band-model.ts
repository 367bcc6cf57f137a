import FFT from 'fft.js';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { applyExpectedBand, checkExpectedFilters, type ExpectedFilter } from './expected-band.ts';

/** The fit runs at this many samples per period of the band's upper end. */
const SAMPLES_PER_UPPER_PERIOD = 4;
/** The upper and lower ends of a band, for choosing rate and length: where its magnitude is this share of its highest. */
const UPPER_SHARE = 0.1;
const LOWER_SHARE = 0.3;

/** Shifts within a sample at which the model is kept. */
export const SHIFTS_PER_SAMPLE = 8;

/**
 * A driver's expected response, ready to be compared with responses of up to `frames` samples: both are brought
 * down to a rate just above the band's upper end, cut off there alike, so that white noise stays white.
 */
export class BandModel {
  /** Rate at which the fit runs. */
  readonly rateHz: number;
  /** Lower end of the band, Hz. */
  readonly lowerHz: number;
  /** Model at `rateHz`, arriving `shift / SHIFTS_PER_SAMPLE` samples after the first, for each shift. */
  readonly shifted: readonly Float64Array[];
  readonly #fft: RealFft;
  readonly #inverse: FFT;
  readonly #slow: number[];
  readonly #slowTime: number[];
  /** Spectrum of the model at the slow bins. */
  readonly #model: Float64Array;

  /**
   * @param excitation what was played, from its first sample, where `response` is no impulse response; it belongs
   *   to the model then
   * @throws RangeError for filters that cannot be, or a band that the rate cannot hold
   */
  constructor(
    sampleRateHz: number,
    frames: number,
    filters: readonly ExpectedFilter[],
    excitation?: ArrayLike<number>,
  ) {
    checkExpectedFilters(filters);
    this.#fft = new RealFft(transformLength(2 * Math.max(frames, excitation?.length ?? 0)));
    const length = this.#fft.length;
    const spectrum = expectedSpectrum(this.#fft, sampleRateHz, filters, excitation);
    const ends = bandEnds(spectrum);
    this.lowerHz = (ends.lowerBin * sampleRateHz) / length;
    let slowLength = length;
    while (slowLength / 2 >= SAMPLES_PER_UPPER_PERIOD * ends.upperBin && slowLength > 64) slowLength /= 2;
    this.rateHz = (sampleRateHz * slowLength) / length;
    this.#inverse = new FFT(slowLength);
    this.#slow = this.#inverse.createComplexArray();
    this.#slowTime = this.#inverse.createComplexArray();
    this.#model = spectrum.slice(0, slowLength);
    this.shifted = Array.from({ length: SHIFTS_PER_SAMPLE }, (_, shift) =>
      this.#arriving(shift / SHIFTS_PER_SAMPLE),
    );
  }

  /** Brings a response down to the fit's rate. */
  slowed(response: ArrayLike<number>): Float64Array {
    const { input, spectrum } = this.#fft;
    input.fill(0);
    input.set(response);
    this.#fft.transform();
    this.#slow.fill(0);
    for (let bin = 1; 2 * bin < this.#inverse.size; bin += 1) {
      this.#slow[2 * bin] = 2 * spectrum[2 * bin]!;
      this.#slow[2 * bin + 1] = 2 * spectrum[2 * bin + 1]!;
    }
    return this.#realTime();
  }

  /** Correlation of a slowed response with the model: the matched filter, over all lags. */
  matched(slowed: Float64Array): Float64Array {
    const fft = new RealFft(slowed.length);
    fft.input.set(slowed);
    fft.transform();
    this.#slow.fill(0);
    for (let bin = 1; 2 * bin < this.#inverse.size; bin += 1) {
      const real = this.#model[2 * bin]!;
      const imaginary = -this.#model[2 * bin + 1]!;
      this.#slow[2 * bin] = fft.spectrum[2 * bin]! * real - fft.spectrum[2 * bin + 1]! * imaginary;
      this.#slow[2 * bin + 1] = fft.spectrum[2 * bin]! * imaginary + fft.spectrum[2 * bin + 1]! * real;
    }
    return this.#realTime();
  }

  #arriving(samples: number): Float64Array {
    const slowLength = this.#inverse.size;
    this.#slow.fill(0);
    for (let bin = 1; 2 * bin < this.#inverse.size; bin += 1) {
      const angle = (-2 * Math.PI * bin * samples) / slowLength;
      const real = 2 * this.#model[2 * bin]!;
      const imaginary = 2 * this.#model[2 * bin + 1]!;
      this.#slow[2 * bin] = real * Math.cos(angle) - imaginary * Math.sin(angle);
      this.#slow[2 * bin + 1] = real * Math.sin(angle) + imaginary * Math.cos(angle);
    }
    return this.#realTime();
  }

  #realTime(): Float64Array {
    this.#inverse.inverseTransform(this.#slowTime, this.#slow);
    return Float64Array.from({ length: this.#slowTime.length / 2 }, (_, at) => this.#slowTime[2 * at]!);
  }
}

/** Real and imaginary parts in turn, for bins 0 to half the transform's length, the last left out. */
function expectedSpectrum(
  fft: RealFft,
  sampleRateHz: number,
  filters: readonly ExpectedFilter[],
  excitation?: ArrayLike<number>,
): Float64Array {
  fft.input.fill(0);
  if (excitation) fft.input.set(excitation);
  else fft.input[0] = 1;
  fft.transform();
  const spectrum = new Float64Array(fft.length);
  const value: [number, number] = [0, 0];
  for (let bin = 1; bin < fft.length / 2; bin += 1) {
    value[0] = fft.spectrum[2 * bin]!;
    value[1] = fft.spectrum[2 * bin + 1]!;
    applyExpectedBand(filters, (bin * sampleRateHz) / fft.length, value);
    spectrum[2 * bin] = value[0];
    spectrum[2 * bin + 1] = value[1];
  }
  return spectrum;
}

function bandEnds(spectrum: Float64Array): { lowerBin: number; upperBin: number } {
  const magnitude = (bin: number): number => Math.hypot(spectrum[2 * bin]!, spectrum[2 * bin + 1]!);
  const lastBin = spectrum.length / 2 - 1;
  let highest = 0;
  for (let bin = 1; bin <= lastBin; bin += 1) highest = Math.max(highest, magnitude(bin));
  if (!(highest > 0)) throw new RangeError('The expected band holds nothing at this sample rate.');
  let lowerBin = 1;
  while (magnitude(lowerBin) < LOWER_SHARE * highest) lowerBin += 1;
  let upperBin = lastBin;
  while (magnitude(upperBin) < UPPER_SHARE * highest) upperBin -= 1;
  return { lowerBin, upperBin };
}
