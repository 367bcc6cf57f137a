import { dbfsFromMeanSquare } from '../level/decibels.ts';
import { RealFft } from './real-fft.ts';
import { windowFigures } from './window-figures.ts';
import { type WindowShape, windowOfShape } from './window-shape.ts';

/**
 * How segments become one spectrum. `linear`: the mean power of all so far, each counting alike, however
 * long it goes on (Welch; "infinite"). `exponential`: older ones fade with the time constant; until that
 * has passed, the mean of all. `peak-hold`: the largest power each bin has had.
 */
export type Averaging =
  | { kind: 'linear' }
  | { kind: 'exponential'; timeConstantSeconds: number }
  | { kind: 'peak-hold' };

/**
 * What a bin's number means. `amplitude`: RMS of a line on that bin, full scale 1.0. `power`: its square.
 * `density`: mean square for each hertz of noise around that bin, full scale squared per Hz.
 */
export type SpectrumScaling = 'amplitude' | 'power' | 'density';

export interface AveragedSpectrumOptions {
  sampleRateHz: number;
  /** A power of two. */
  segmentFrames: number;
  /** Share of a segment that the next one repeats, from 0 to below 1; rounded to whole frames. */
  overlap: number;
  window: WindowShape;
  averaging: Averaging;
}

/**
 * Averaged power spectrum of a stream, by P. Welch's method (IEEE Trans. AU-15(2) 1967, 70-73): windowed
 * segments that overlap, their powers averaged. Frames that do not fill a segment wait for the next push.
 * No mean is taken out: DC stands in bin 0 and in the bins that its window's main lobe reaches.
 *
 * One-sided: each bin but DC and Nyquist carries the power of its negative frequency as well. NaN in the
 * stream makes every bin NaN until `reset`; silence reads 0. Nothing is allocated after construction.
 */
export class AveragedSpectrum {
  /** Bins 0 (DC) to half the segment (Nyquist). */
  readonly binCount: number;
  readonly binHz: number;
  /** Noise bandwidth of a bin, hertz: what turns `power` into `density`. */
  readonly noiseBandwidthHz: number;
  /** Segments taken in so far. */
  segments = 0;
  readonly #fft: RealFft;
  readonly #window: Float64Array;
  readonly #power: Float64Array;
  readonly #line: Float64Array;
  readonly #hopFrames: number;
  readonly #averaging: Averaging;
  readonly #fadeShare: number;
  readonly #lineScale: number;
  #held = 0;

  /** @throws RangeError when a length, the overlap, `beta` or the time constant is out of range */
  constructor(options: AveragedSpectrumOptions) {
    const { sampleRateHz, segmentFrames, overlap, averaging } = options;
    if (!(overlap >= 0 && overlap < 1)) {
      throw new RangeError(`An overlap of ${overlap} leaves no step: it must be from 0 to below 1.`);
    }
    this.#fft = new RealFft(segmentFrames);
    this.#window = windowOfShape(options.window, segmentFrames);
    this.#hopFrames = Math.max(1, Math.round(segmentFrames * (1 - overlap)));
    this.#averaging = averaging;
    this.#fadeShare = fadeShare(averaging, this.#hopFrames / sampleRateHz);
    this.#line = new Float64Array(segmentFrames);
    this.binCount = segmentFrames / 2 + 1;
    this.#power = new Float64Array(this.binCount);
    const { coherentGain, noiseBandwidthBins } = windowFigures(this.#window);
    this.binHz = sampleRateHz / segmentFrames;
    this.noiseBandwidthHz = noiseBandwidthBins * this.binHz;
    this.#lineScale = 1 / (segmentFrames * coherentGain) ** 2;
  }

  reset(): void {
    this.#power.fill(0);
    this.segments = 0;
    this.#held = 0;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const line = this.#line;
    for (let start = from; start < to; ) {
      const count = Math.min(to - start, line.length - this.#held);
      for (let n = 0; n < count; n += 1) line[this.#held + n] = samples[start + n]!;
      start += count;
      this.#held += count;
      if (this.#held === line.length) this.#takeSegment();
    }
  }

  /**
   * Fills `into` with one number for each bin, all 0 before the first segment.
   * @param into at least `binCount` long
   */
  read(scaling: SpectrumScaling, into: Float64Array): void {
    const last = this.binCount - 1;
    const perLine = scaling === 'density' ? this.#lineScale / this.noiseBandwidthHz : this.#lineScale;
    for (let bin = 0; bin <= last; bin += 1) {
      const sides = bin === 0 || bin === last ? 1 : 2;
      const power = sides * perLine * this.#power[bin]!;
      into[bin] = scaling === 'amplitude' ? Math.sqrt(power) : power;
    }
  }

  /**
   * In decibels: `amplitude` and `power` alike in dBFS of a line (a full-scale sine reads 0), `density` in
   * dBFS per hertz. A bin without power reads -Infinity.
   */
  readDbfs(scaling: SpectrumScaling, into: Float64Array): void {
    this.read(scaling === 'density' ? 'density' : 'power', into);
    for (let bin = 0; bin < this.binCount; bin += 1) {
      into[bin] = dbfsFromMeanSquare(into[bin]!) ?? Number.NEGATIVE_INFINITY;
    }
  }

  #takeSegment(): void {
    const { input, spectrum } = this.#fft;
    const line = this.#line;
    for (let n = 0; n < line.length; n += 1) input[n] = line[n]! * this.#window[n]!;
    this.#fft.transform();
    this.segments += 1;
    const holds = this.#averaging.kind === 'peak-hold';
    const share = Math.max(1 / this.segments, this.#fadeShare);
    const power = this.#power;
    for (let bin = 0; bin < power.length; bin += 1) {
      const re = spectrum[2 * bin]!;
      const im = spectrum[2 * bin + 1]!;
      const now = re * re + im * im;
      const before = power[bin]!;
      power[bin] = holds ? Math.max(before, now) : before + share * (now - before);
    }
    line.copyWithin(0, this.#hopFrames);
    this.#held = line.length - this.#hopFrames;
  }
}

/** Share of the newest segment in the running mean, once that has settled: 0 where it never stops averaging. */
function fadeShare(averaging: Averaging, hopSeconds: number): number {
  if (averaging.kind !== 'exponential') return 0;
  if (!(averaging.timeConstantSeconds > 0)) {
    throw new RangeError(`A time constant of ${averaging.timeConstantSeconds} s averages nothing.`);
  }
  return 1 - Math.exp(-hopSeconds / averaging.timeConstantSeconds);
}
