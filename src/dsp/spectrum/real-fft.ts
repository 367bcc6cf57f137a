import FFT from 'fft.js';
import type { Complex, RealTransform } from './abreast.ts';

/** Smallest power of two that holds `frames`, at least 2. */
export function transformLength(frames: number): number {
  let length = 2;
  while (length < frames) length *= 2;
  return length;
}

/**
 * Transform of real samples, with its buffers. After `transform`, bin `b` is
 * `spectrum[2b] + j spectrum[2b + 1]` for `b` from 0 to `length/2` inclusive, unscaled:
 * `X[b] = sum of x[n] exp(-2 pi j b n / length)`.
 *
 * fft.js leaves garbage above bin `length/2`: nothing there may be read. Its own plain array is the
 * container in which it is fastest (twice as fast as with a Float64Array).
 */
export class RealFft implements RealTransform {
  /** A power of two. */
  readonly length: number;
  readonly abreast = 1;
  /** To be filled before each transform; kept as it was by it. */
  readonly input: Float64Array;
  readonly spectrum: number[];
  readonly #fft: FFT;

  /** @throws RangeError unless `length` is a power of two from 2 up */
  constructor(length: number) {
    if (length < 2 || transformLength(length) !== length) {
      throw new RangeError(`The transform's length is ${length}; it must be a power of two.`);
    }
    this.length = length;
    this.input = new Float64Array(length);
    this.#fft = new FFT(length);
    this.spectrum = this.#fft.createComplexArray();
  }

  transform(): void {
    this.#fft.realTransform(this.spectrum, this.input);
  }

  bin(_signal: number, bin: number, into: Complex): void {
    into.re = this.spectrum[2 * bin]!;
    into.im = this.spectrum[2 * bin + 1]!;
  }

  addPower(power: Float64Array): void {
    const { spectrum } = this;
    for (let b = 0; b < power.length; b += 1) {
      const re = spectrum[2 * b]!;
      const im = spectrum[2 * b + 1]!;
      power[b] = power[b]! + re * re + im * im;
    }
  }
}
