import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import type { SweepSpec } from '../tones/spec.ts';
import { renderSweep } from '../tones/sweep.ts';
import { inverseTransform } from './inverse-transform.ts';
import { growthSeconds, sweepWithin } from './sweep-law.ts';

/** Room after the sweep, as a share of it and in seconds: for its tail, and for windows that overlap. */
const LEAST_ROOM_SHARE = 0.25;
const LEAST_ROOM_SECONDS = 1.6;

/**
 * Regularisation against the sweep's own mean spectrum: inside the band it costs 1e-6 of the response (9e-6 dB);
 * outside it takes over within an octave, so that no empty frequency is divided by, and yet the band ends softly: the
 * gate would smear a sharp end into it.
 */
const INSIDE = 1e-6;
const OUTSIDE = 1e3;
const EDGE_OCTAVES = 1.5;

/**
 * Turns a recording of an exponential sweep into the impulse response between player and recorder:
 * `H = Y conj(X) / (|X|^2 + r)`, A. Farina's inverse filter (AES preprint 5093, 2000) as a division of spectra, with
 * his result: distortion of order N stands `L ln N` ahead of the linear response, apart from it.
 *
 * The recording's own rate is used throughout; a sweep made at another rate is the same sweep.
 */
export class SweepDeconvolver {
  /** The sweep as far as the rate holds it. */
  readonly spec: SweepSpec;
  readonly sampleRateHz: number;
  readonly sweepFrames: number;
  /** Frames that `impulseResponse` takes and gives; a power of two. */
  readonly length: number;
  readonly #fft: RealFft;
  readonly #inverse: Float64Array;
  readonly #spectrum: Float64Array;

  /** @throws RangeError where the rate or the sweep cannot be used */
  constructor(spec: SweepSpec, sampleRateHz: number) {
    this.spec = sweepWithin(spec, sampleRateHz);
    this.sampleRateHz = sampleRateHz;
    const sweep = renderSweep(this.spec, sampleRateHz);
    this.sweepFrames = sweep.length;
    const room = Math.max(LEAST_ROOM_SHARE * sweep.length, LEAST_ROOM_SECONDS * sampleRateHz);
    this.length = transformLength(sweep.length + room);
    this.#fft = new RealFft(this.length);
    this.#inverse = this.#inverseOf(sweep);
    this.#spectrum = new Float64Array(this.length + 2);
  }

  #inverseOf(sweep: Float64Array): Float64Array {
    const { length, sampleRateHz } = this;
    const { spectrum } = this.#fft;
    this.#fft.input.set(sweep);
    this.#fft.transform();
    const inverse = new Float64Array(length + 2);
    for (let bin = 1; bin < length / 2; bin += 1) {
      const frequencyHz = (bin * sampleRateHz) / length;
      const re = spectrum[2 * bin]!;
      const im = spectrum[2 * bin + 1]!;
      const divisor = re * re + im * im + this.#regularisation(frequencyHz);
      inverse[2 * bin] = re / divisor;
      inverse[2 * bin + 1] = -im / divisor;
    }
    return inverse;
  }

  /** `|X(f)|^2` of the sweep by stationary phase, `A^2 L fs^2 / 4 f`, times a share that depends on the band. */
  #regularisation(frequencyHz: number): number {
    const { startHz, endHz, levelDbfs } = this.spec;
    const outside = Math.max(Math.log2(startHz / frequencyHz), Math.log2(frequencyHz / endHz), 0);
    const share = INSIDE * (OUTSIDE / INSIDE) ** Math.min(1, outside / EDGE_OCTAVES);
    const clamped = Math.max(startHz, Math.min(endHz, frequencyHz));
    const amplitude = 10 ** (levelDbfs / 20);
    return (share * (amplitude * this.sampleRateHz) ** 2 * growthSeconds(this.spec)) / (4 * clamped);
  }

  /**
   * Response to a sweep that begins at frame 0 of `recording`: sample `n` is delay `n`, sample `length - n` delay
   * `-n`, where the harmonics are.
   *
   * @param recording `length` frames
   * @param response receives `length` samples
   */
  impulseResponse(recording: ArrayLike<number>, response: Float64Array): void {
    this.#apply(recording, () => 1, response);
  }

  /**
   * As `impulseResponse`, weighted by the sweep's own spectrum, 1/f in amplitude: the matched filter, best for finding
   * a sweep in white noise. A subwoofer's response, which is nothing beside the treble noise of the division, stands
   * out in it.
   */
  matchedResponse(recording: ArrayLike<number>, response: Float64Array): void {
    const { startHz } = this.spec;
    const binHz = this.sampleRateHz / this.length;
    this.#apply(recording, (bin) => startHz / Math.max(startHz, bin * binHz), response);
  }

  #apply(recording: ArrayLike<number>, weight: (bin: number) => number, response: Float64Array): void {
    const inverse = this.#inverse;
    const { spectrum } = this.#fft;
    this.#fft.input.set(recording);
    this.#fft.transform();
    const product = this.#spectrum;
    for (let bin = 0; bin <= this.length / 2; bin += 1) {
      const re = spectrum[2 * bin]!;
      const im = spectrum[2 * bin + 1]!;
      const scale = weight(bin);
      product[2 * bin] = scale * (re * inverse[2 * bin]! - im * inverse[2 * bin + 1]!);
      product[2 * bin + 1] = scale * (re * inverse[2 * bin + 1]! + im * inverse[2 * bin]!);
    }
    inverseTransform(this.#fft, product, response);
  }
}
