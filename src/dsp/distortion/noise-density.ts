import type { Band } from '../reading.ts';

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
  #shape: NoiseShape = { spacingBins: 1, excludedBins: 1, segments: 1, sumOfSquares: 1 };
  #lines = 0;

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
    }
  }

  /** White noise's variance (full scale 1.0 squared) that would look like the noise beside this harmonic (1: the fundamental). */
  besideHarmonic(order: number): number {
    const { segments, sumOfSquares } = this.#shape;
    return this.#beside[Math.min(order, this.#lines - 1)]! / (segments * sumOfSquares);
  }

  /** Mean square of the noise between two frequencies, given in bins of the transform; fractions of a bin count. */
  between(lowBin: number, highBin: number): number {
    const { spacingBins, excludedBins, segments, sumOfSquares } = this.#shape;
    const lastBin = this.#power.length - 1;
    let sum = 0;
    for (let bin = Math.max(0, Math.floor(lowBin)); bin <= Math.min(lastBin, Math.ceil(highBin)); bin += 1) {
      const share = Math.min(bin + 0.5, highBin, lastBin) - Math.max(bin - 0.5, lowBin, 0);
      if (share <= 0) continue;
      const line = Math.min(Math.round(bin / spacingBins), this.#lines - 1);
      const covered = Math.abs(bin - line * spacingBins) <= excludedBins;
      sum += share * (covered ? this.#beside[line]! : this.#power[bin]!);
    }
    return (2 * sum) / (this.#length * segments * sumOfSquares);
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
    return count > 0 ? sum / count : null;
  }
}
