import type { Band } from '../reading.ts';
import type { OverlapPower } from './overlap.ts';

/** Noise beside a line is averaged this many main lobes far, where the next line is not nearer. */
const NEIGHBOURHOOD = 3;

export interface NoiseShape {
  /** From one harmonic to the next, bins. */
  spacingBins: number;
  /** Half of what each line covers, bins. */
  excludedBins: number;
  /** How many power spectra were summed. */
  segments: number;
  /** Of the window: turns bin power into mean square for each bin. */
  sumOfSquares: number;
  /** How far the averaged powers scatter. */
  scatter: OverlapPower;
}

/**
 * Noise of a line spectrum. Bins that a harmonic (or DC, or the fundamental) covers say nothing about
 * the noise under it; there the mean of the bins beside it stands in, so that noise is neither counted
 * as distortion nor lost.
 */
export class NoiseDensity {
  readonly #length: number;
  readonly #beside: Float64Array;
  #power: Float64Array = new Float64Array(0);
  #shape: NoiseShape = {
    spacingBins: 1,
    excludedBins: 1,
    segments: 1,
    sumOfSquares: 1,
    scatter: { ofBin: 1, ofTotal: 1 },
  };
  #lines = 0;
  /** Bins that tell the noise beside the line looked at last. */
  #besideBins = 0;
  #fundamentalBins = 0;

  /** @param length of the transform @param mostLines DC included */
  constructor(length: number, mostLines: number) {
    this.#length = length;
    this.#beside = new Float64Array(mostLines);
  }

  /** @param power summed squared magnitudes of bins 0 to length/2 of unscaled transforms; kept, not copied */
  measure(power: Float64Array, shape: NoiseShape): void {
    this.#power = power;
    this.#shape = shape;
    this.#lines = Math.min(this.#beside.length, Math.floor((power.length - 1) / shape.spacingBins) + 1);
    for (let line = 0; line < this.#lines; line += 1) {
      this.#beside[line] = this.#meanBeside(line) ?? this.#beside[Math.max(0, line - 1)]!;
      if (line === 1) this.#fundamentalBins = this.#besideBins;
    }
  }

  /** White noise's variance (full scale 1.0 squared) that would look like the noise beside this harmonic (1: the fundamental). */
  besideHarmonic(order: number): number {
    const { segments, sumOfSquares } = this.#shape;
    return this.#beside[Math.min(order, this.#lines - 1)]! / (segments * sumOfSquares);
  }

  /**
   * By how much an uncertainty that rests on the noise beside the fundamental must grow, since that noise
   * is itself known from few bins: the standard deviation of a scaled t distribution (JCGM 101:2008,
   * 6.4.9). 1 for many bins; no more than 1.4 is made of few.
   */
  besideUncertaintyFactor(): number {
    const freedom = (2 * this.#fundamentalBins) / (this.#length * this.#shape.scatter.ofTotal);
    return Math.sqrt(freedom / Math.max(freedom / 2, freedom - 2));
  }

  /** Mean square of the noise between two frequencies, given in bins of the transform; fractions of a bin count. */
  between(lowBin: number, highBin: number): number {
    const { spacingBins, excludedBins, segments, sumOfSquares } = this.#shape;
    const lastBin = this.#power.length - 1;
    // Whole numbers to the compiler too, or it makes an object of every bin.
    const from = Math.max(0, Math.floor(lowBin)) | 0;
    const to = Math.min(lastBin, Math.ceil(highBin)) | 0;
    let sum = 0;
    for (let bin = from; bin <= to; bin += 1) {
      const share = Math.min(bin + 0.5, highBin, lastBin) - Math.max(bin - 0.5, lowBin, 0);
      if (share <= 0) continue;
      const line = this.#lineNearest(bin);
      const covered = Math.abs(bin - line * spacingBins) <= excludedBins;
      sum += share * (covered ? this.#beside[line]! : this.#power[bin]!);
    }
    return (2 * sum) / (this.#length * segments * sumOfSquares);
  }

  /**
   * Relative standard uncertainty of the mean square in a band, from the noise's own randomness. About
   * `1 / sqrt(bandwidth times time)` for white noise, less time where windows taper. Lines that cover
   * bins leave fewer to tell by.
   */
  relativeUncertaintyInBand(band: Band, sampleRateHz: number): number {
    const { spacingBins, excludedBins, scatter } = this.#shape;
    const binsPerHz = this.#length / sampleRateHz;
    const last = Math.min(this.#power.length - 1, Math.round(band.highHz * binsPerHz));
    let sum = 0;
    let squares = 0;
    for (let bin = Math.max(0, Math.round(band.lowHz * binsPerHz)) | 0; bin <= last; ) {
      const line = this.#lineNearest(bin);
      const first = bin;
      let free = 0;
      let freeSum = 0;
      let freeSquares = 0;
      for (; bin <= last && this.#lineNearest(bin) === line; bin += 1) {
        if (Math.abs(bin - line * spacingBins) <= excludedBins) continue;
        const power = this.#power[bin]!;
        free += 1;
        freeSum += power;
        freeSquares += power * power;
      }
      const all = free > 0 ? (bin - first) / free : 0;
      sum += all * freeSum;
      squares += all * all * freeSquares;
    }
    // A bin's own scatter makes its square too large on average by 1 + its relative variance.
    const spread = (this.#length * squares * scatter.ofTotal) / (1 + scatter.ofBin);
    return sum > 0 ? Math.sqrt(spread) / sum : 0;
  }

  #lineNearest(bin: number): number {
    return Math.min(Math.round(bin / this.#shape.spacingBins), this.#lines - 1);
  }

  inBand(band: Band, sampleRateHz: number): number {
    const binsPerHz = this.#length / sampleRateHz;
    return this.between(band.lowHz * binsPerHz, band.highHz * binsPerHz);
  }

  /** Mean square of all noise, from DC to half the sample rate. */
  total(): number {
    return this.between(0, this.#power.length - 1);
  }

  /** Mean power of the free bins to both sides of a line; `null` where there is none. */
  #meanBeside(line: number): number | null {
    const { spacingBins, excludedBins } = this.#shape;
    const reach = Math.max(excludedBins + 1, Math.min(spacingBins / 2, NEIGHBOURHOOD * excludedBins));
    const at = line * spacingBins;
    const lastBin = this.#power.length - 1;
    let sum = 0;
    let count = 0;
    for (
      let bin = Math.max(0, Math.ceil(at - reach));
      bin <= Math.min(lastBin, Math.floor(at + reach));
      bin += 1
    ) {
      if (Math.abs(bin - at) <= excludedBins) continue;
      sum += this.#power[bin]!;
      count += 1;
    }
    this.#besideBins = count;
    return count > 0 ? sum / count : null;
  }
}
