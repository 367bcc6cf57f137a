import FFT from 'fft.js';
import type { Complex, RealTransform } from './abreast.ts';

/**
 * Two real signals in one complex transform, as its real and its imaginary part: a sixth quicker than one
 * after the other. The signals come apart by symmetry, `A = (Z[b] + conj Z[-b]) / 2` and
 * `B = (Z[b] - conj Z[-b]) / 2j`; neither shows in the other above rounding, so they should be of like size.
 */
export class TwinFft implements RealTransform {
  readonly length: number;
  readonly abreast = 2;
  readonly input: Float64Array;
  readonly #fft: FFT;
  readonly #spectrum: number[];

  /** @param length a power of two, from 2 up */
  constructor(length: number) {
    this.length = length;
    this.input = new Float64Array(2 * length);
    this.#fft = new FFT(length);
    this.#spectrum = this.#fft.createComplexArray();
  }

  transform(): void {
    this.#fft.transform(this.#spectrum, this.input);
  }

  bin(signal: number, bin: number, into: Complex): void {
    const z = this.#spectrum;
    const at = 2 * bin;
    const mirror = bin === 0 ? 0 : 2 * (this.length - bin);
    const re = z[at]!;
    const im = z[at + 1]!;
    const mirrorRe = z[mirror]!;
    const mirrorIm = z[mirror + 1]!;
    into.re = (signal === 0 ? re + mirrorRe : im + mirrorIm) / 2;
    into.im = (signal === 0 ? im - mirrorIm : mirrorRe - re) / 2;
  }

  /** `|A|^2 + |B|^2 = (|Z[b]|^2 + |Z[-b]|^2) / 2` */
  addPower(power: Float64Array): void {
    const z = this.#spectrum;
    const half = this.length / 2;
    power[0] = power[0]! + z[0]! * z[0]! + z[1]! * z[1]!;
    for (let b = 1; b <= half; b += 1) {
      const re = z[2 * b]!;
      const im = z[2 * b + 1]!;
      const mirror = 2 * (this.length - b);
      const mirrorRe = z[mirror]!;
      const mirrorIm = z[mirror + 1]!;
      power[b] = power[b]! + (re * re + im * im + mirrorRe * mirrorRe + mirrorIm * mirrorIm) / 2;
    }
  }
}
