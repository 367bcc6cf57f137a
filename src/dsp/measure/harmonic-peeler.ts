import type { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import type { FittedTone } from '../fit/tone-fit.ts';

/** Harmonics below this share of the tone leak less than a live window's noise. */
const LEAST_SHARE = 1e-4;

/** Each costs a run over the window. */
const MOST_PEELED = 8;

/**
 * Takes the strongest harmonics of a window out of its samples, as far as they are known, so that what
 * they leak through a narrow window is gone when everything is read once more. Owns its buffers.
 */
export class HarmonicPeeler {
  readonly #cleaned: Float64Array;
  readonly #orders = new Int32Array(MOST_PEELED);
  readonly #re = new Float64Array(MOST_PEELED);
  readonly #im = new Float64Array(MOST_PEELED);
  #count = 0;

  constructor(frames: number) {
    this.#cleaned = new Float64Array(frames);
  }

  /**
   * @param spectrum just finished over these samples
   * @param tone fitted with that spectrum's harmonics taken out
   * @returns the samples without the harmonics; its own buffer, good until the next call
   */
  peel(samples: Float32Array | Float64Array, spectrum: SegmentSpectrum, tone: FittedTone): Float64Array {
    this.#choose(spectrum, tone);
    const cleaned = this.#cleaned;
    for (let n = 0; n < cleaned.length; n += 1) cleaned[n] = samples[n]!;
    const middle = (cleaned.length - 1) / 2;
    for (let k = 0; k < this.#count; k += 1) {
      const w = this.#orders[k]! * tone.angularFrequency;
      const stepCosine = Math.cos(w);
      const stepSine = Math.sin(w);
      let re = this.#re[k]! * Math.cos(w * middle) + this.#im[k]! * Math.sin(w * middle);
      let im = this.#im[k]! * Math.cos(w * middle) - this.#re[k]! * Math.sin(w * middle);
      for (let n = 0; n < cleaned.length; n += 1) {
        cleaned[n] = cleaned[n]! - re;
        const turned = re * stepCosine - im * stepSine;
        im = im * stepCosine + re * stepSine;
        re = turned;
      }
    }
    return cleaned;
  }

  /** Adds what was taken out to the harmonics of a spectrum finished over the peeled samples at the tone's frequency. */
  putBack(spectrum: SegmentSpectrum, angularFrequency: number): void {
    const { last, view } = spectrum;
    const atMiddle = Math.atan2(last.im, last.re) + (angularFrequency * (this.#cleaned.length - 1)) / 2;
    for (let k = 0; k < this.#count; k += 1) {
      const held = this.#orders[k]! - 2;
      const cosine = Math.cos(this.#orders[k]! * atMiddle);
      const sine = Math.sin(this.#orders[k]! * atMiddle);
      view.cosine[held] = view.cosine[held]! + this.#re[k]! * cosine + this.#im[k]! * sine;
      view.sine[held] = view.sine[held]! + this.#re[k]! * sine - this.#im[k]! * cosine;
    }
  }

  /** The strongest harmonics, as complex amplitudes at the middle of the window. */
  #choose({ view }: SegmentSpectrum, tone: FittedTone): void {
    const phase = Math.atan2(tone.im, tone.re);
    this.#count = 0;
    let below = Number.POSITIVE_INFINITY;
    while (this.#count < MOST_PEELED) {
      let best = -1;
      let most = (LEAST_SHARE * tone.amplitude) ** 2;
      for (let held = 0; held < view.count; held += 1) {
        const power = view.cosine[held]! ** 2 + view.sine[held]! ** 2;
        if (power > most && power < below) [best, most] = [held, power];
      }
      if (best < 0) return;
      below = most;
      const turn = (best + 2) * phase;
      this.#orders[this.#count] = best + 2;
      this.#re[this.#count] = view.cosine[best]! * Math.cos(turn) + view.sine[best]! * Math.sin(turn);
      this.#im[this.#count] = view.cosine[best]! * Math.sin(turn) - view.sine[best]! * Math.cos(turn);
      this.#count += 1;
    }
  }
}
