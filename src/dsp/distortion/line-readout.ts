import type { RealTransform } from '../spectrum/abreast.ts';
import { kaiserResponse } from '../spectrum/kaiser.ts';
import type { FittedWindow } from './kaiser-shelf.ts';

/**
 * Reads the lines of a tone and its harmonics out of windowed transforms, each from the bin nearest to
 * it. What window and place within the bin do to a line is the same for every segment, so it is worked out
 * once for each frequency.
 */
export class LineReadout {
  /** Line read last: complex amplitude, peak, at the segment's first sample. */
  re = 0;
  im = 0;
  readonly #bins: Int32Array;
  readonly #cosine: Float64Array;
  readonly #sine: Float64Array;

  /** @param most highest multiple of the tone that will be read */
  constructor(most: number) {
    this.#bins = new Int32Array(most + 1);
    this.#cosine = new Float64Array(most + 1);
    this.#sine = new Float64Array(most + 1);
  }

  /**
   * @param w of the tone, radians per frame
   * @param window that the segments are weighted with; its length is that of a segment
   * @param length of the transform, the segment's or longer
   * @param highest multiple that will be read
   */
  begin(w: number, window: FittedWindow, length: number, highest: number): void {
    const frames = window.samples.length;
    for (let order = 1; order <= highest; order += 1) {
      const atBin = (order * w * length) / (2 * Math.PI);
      const bin = Math.min(Math.round(atBin), length / 2);
      const away = bin - atBin;
      const gain = 2 / (window.sum * kaiserResponse(window.beta, (away * frames) / length));
      // The window is centred on sample frames/2, where a line `away` bins off has turned by this much.
      const turn = (Math.PI * away * frames) / length;
      this.#bins[order] = bin;
      this.#cosine[order] = Math.cos(turn) * gain;
      this.#sine[order] = Math.sin(turn) * gain;
    }
  }

  /**
   * @param signal which of those that were transformed together
   * @param order 1 for the tone itself
   */
  read(transform: RealTransform, signal: number, order: number): void {
    transform.bin(signal, this.#bins[order]!, this);
    const { re, im } = this;
    const cosine = this.#cosine[order]!;
    const sine = this.#sine[order]!;
    this.re = re * cosine - im * sine;
    this.im = im * cosine + re * sine;
  }
}
