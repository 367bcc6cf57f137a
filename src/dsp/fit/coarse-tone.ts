import { cosineWindow, HANN } from '../spectrum/cosine-windows.ts';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';

export interface CoarseTone {
  /** Within about 0.05 bins of the strongest line, a bin being the rate over the frames looked at. */
  frequencyHz: number;
  /** How much of the power that varies lies in that line, 0 to 1. */
  share: number;
}

/** A Hann line's main lobe, bins to each side. */
const LOBE_BINS = 2;

/** Fewer cycles than this are not told from a drift of the zero line. */
const FEWEST_CYCLES = 2.5;

/** An expected tone is looked for this far to either side: a played-back clock or a slow oscillator is nearer. */
const EXPECTED_WITHIN = 0.03;

/**
 * Finds the strongest line of a stretch of samples. The strongest line is taken for the fundamental:
 * no wave that a limited stage makes of a sine holds a harmonic stronger than it, while a search for
 * weaker lines below it would take mains hum for the tone.
 */
export class CoarseToneFinder {
  readonly frames: number;
  readonly #sampleRateHz: number;
  readonly #window: Float64Array;
  readonly #fft: RealFft;
  readonly #power: Float64Array;

  /** @param frames how many samples are looked at; at least 4 */
  constructor(frames: number, sampleRateHz: number) {
    this.frames = frames;
    this.#sampleRateHz = sampleRateHz;
    this.#window = cosineWindow(HANN, frames);
    this.#fft = new RealFft(transformLength(frames));
    this.#power = new Float64Array(this.#fft.length / 2 + 1);
  }

  /**
   * @param samples at least `frames` of them
   * @param expectedHz where the tone should be, or `null` to take the strongest line anywhere
   * @returns `null` for silence, or where nothing peaks in the range
   */
  find(samples: Float32Array | Float64Array, expectedHz: number | null): CoarseTone | null {
    const total = this.#transform(samples);
    if (!(total > 0)) return null;
    const bin = this.#strongestBin(expectedHz);
    if (bin === null) return null;
    const lobe = Math.ceil((LOBE_BINS * this.#fft.length) / this.frames);
    let inLobe = 0;
    for (let b = Math.max(0, bin - lobe); b <= Math.min(bin + lobe, this.#power.length - 1); b += 1) {
      inLobe += this.#power[b]!;
    }
    const hzPerBin = this.#sampleRateHz / this.#fft.length;
    return { frequencyHz: (bin + this.#vertex(bin)) * hzPerBin, share: inLobe / total };
  }

  #transform(samples: Float32Array | Float64Array): number {
    const { input, spectrum } = this.#fft;
    let mean = 0;
    for (let n = 0; n < this.frames; n += 1) mean += samples[n]!;
    mean /= this.frames;
    for (let n = 0; n < this.frames; n += 1) input[n] = (samples[n]! - mean) * this.#window[n]!;
    this.#fft.transform();
    let total = 0;
    for (let b = 0; b < this.#power.length; b += 1) {
      const re = spectrum[2 * b]!;
      const im = spectrum[2 * b + 1]!;
      this.#power[b] = re * re + im * im;
      total += this.#power[b]!;
    }
    return total;
  }

  /** Highest bin that tops both neighbours, within the range. */
  #strongestBin(expectedHz: number | null): number | null {
    const binsPerHz = this.#fft.length / this.#sampleRateHz;
    const binsPerCycle = this.#fft.length / this.frames;
    let from = FEWEST_CYCLES * binsPerCycle;
    let to = this.#power.length - 1 - FEWEST_CYCLES * binsPerCycle;
    if (expectedHz !== null) {
      const within = Math.max(EXPECTED_WITHIN * expectedHz * binsPerHz, 3 * binsPerCycle);
      from = Math.max(from, expectedHz * binsPerHz - within);
      to = Math.min(to, expectedHz * binsPerHz + within);
    }
    let best: number | null = null;
    for (let b = Math.max(1, Math.ceil(from)); b <= Math.floor(to); b += 1) {
      const power = this.#power[b]!;
      if (power < this.#power[b - 1]! || power < this.#power[b + 1]!) continue;
      if (best === null || power > this.#power[best]!) best = b;
    }
    return best;
  }

  /** Top of the parabola through the logarithms of three bins, -0.5 to 0.5 of a bin from the middle one. */
  #vertex(bin: number): number {
    const floor = this.#power[bin]! * 1e-30;
    const left = Math.log(Math.max(this.#power[bin - 1]!, floor));
    const middle = Math.log(this.#power[bin]!);
    const right = Math.log(Math.max(this.#power[bin + 1]!, floor));
    const curvature = left - 2 * middle + right;
    return curvature < 0 ? (left - right) / (2 * curvature) : 0;
  }
}
