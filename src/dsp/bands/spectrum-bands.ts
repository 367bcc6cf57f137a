import type { FractionalOctaveBand } from './fractional-octave.ts';

/** Bins of noise bandwidth that a band must span before its sum is worth reading. */
const LEAST_WIDTH = 2;

/**
 * Sums a power spectrum into bands. Bin `b` stands for the stretch from `b - 1/2` to `b + 1/2` bins, and
 * where an edge cuts it, the share inside counts: exact for power spread evenly over a bin. A line close to
 * an edge is shared as its window spreads it, so bands of lines are good only some bins away from edges.
 */
export class SpectrumBands {
  readonly bands: readonly FractionalOctaveBand[];
  readonly #binHz: number;
  readonly #leastWidthHz: number;

  constructor(
    bands: readonly FractionalOctaveBand[],
    spectrum: { readonly binHz: number; readonly noiseBandwidthHz: number },
  ) {
    this.bands = bands;
    this.#binHz = spectrum.binHz;
    this.#leastWidthHz = LEAST_WIDTH * spectrum.noiseBandwidthHz;
  }

  /** Whether the band is at least two noise bandwidths wide; narrower ones are mostly their neighbours. */
  isResolved(band: number): boolean {
    const { lowHz, highHz } = this.bands[band]!;
    return highHz - lowHz >= this.#leastWidthHz;
  }

  /**
   * Mean square in each band, full scale 1.0 squared. What a band has above Nyquist counts as empty.
   * @param density for each bin from DC to Nyquist, full scale squared per Hz (one-sided); may have been
   *   multiplied by a weighting
   * @param into at least as long as `bands`
   */
  meanSquares(density: Float64Array, into: Float64Array): void {
    for (let band = 0; band < this.bands.length; band += 1) {
      const { lowHz, highHz } = this.bands[band]!;
      into[band] = this.#between(density, lowHz / this.#binHz, highHz / this.#binHz);
    }
  }

  #between(density: Float64Array, lowBin: number, highBin: number): number {
    const last = density.length - 1;
    let sum = 0;
    for (let bin = Math.round(lowBin); bin <= Math.min(last, Math.round(highBin)); bin += 1) {
      const share = Math.min(bin + 0.5, highBin, last) - Math.max(bin - 0.5, lowBin, 0);
      // DC and Nyquist stand for half a bin each and hold all of its power there.
      const sides = bin === 0 || bin === last ? 2 : 1;
      if (share > 0) sum += sides * share * density[bin]!;
    }
    return sum * this.#binHz;
  }
}
