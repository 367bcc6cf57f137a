import FFT from 'fft.js';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { MARKER_SECONDS, type MarkerEnd } from '../tones/marker.ts';
import { type BinRange, markerBins, markerTemplate } from './marker-template.ts';

/** Complex samples of the correlation keep at least this rate: the band is 5.4 kHz wide. */
const LEAST_CORRELATION_RATE_HZ = 8_000;

/** Half the width of the average that whitens the spectrum: fine enough to take a tone out, coarse against the marker's own ripple. */
const WHITENING_HALF_HZ = 100;

/** Parts of the band this far below its strongest hold rounding errors and no sound. */
const WHITENING_FLOOR = 1e-12;

/** The block's edges are faded over this time, so that a loud bass tone cut there does not spread into the band. */
const TAPER_SECONDS = 0.02;

/** A window with less than this share of the block's mean energy is silence: the fade and rounding are all it holds. */
const SILENT_SHARE = 1e-6;

/**
 * Correlation of one block of a recording with both markers, by the pre-whitened matched filter (C. Knapp and
 * G. Carter 1976 discuss the weightings): the block's spectrum is levelled over 200 Hz, so tones and a
 * coloured response weigh no more than their share of the band, then multiplied by the markers' conjugate
 * spectra. The result is complex, at a lower rate than the recording's, shifted down by the middle of the band;
 * its magnitude is the envelope, which no phase rotation of the path moves.
 *
 * Allocates when built, never per block.
 */
export class MarkerCorrelator {
  /** Frames of the recording in a block. */
  readonly blockFrames: number;
  /** A marker may start from this frame of a block up to, not including, `endFrame`. */
  readonly firstFrame: number;
  readonly endFrame: number;
  /** Frames of the recording for one place of the correlation: a power of two. */
  readonly framesPerPlace: number;
  /** Complex correlation, real and imaginary parts in turn, scaled as `likeness` needs it. */
  readonly correlation: Readonly<Record<MarkerEnd, number[]>>;
  readonly #fft: RealFft;
  readonly #inverse: FFT;
  readonly #placed: number[];
  readonly #levelled: number[];
  readonly #energyBefore: Float64Array;
  readonly #taper: Float64Array;
  readonly #powerBefore: Float64Array;
  readonly #windowPlaces: number;
  readonly #bins: BinRange;
  readonly #reach: number;
  readonly #templates: Readonly<Record<MarkerEnd, Float64Array>>;

  /** @param highestHz upper end of the part of the markers' band that is looked at */
  constructor(sampleRateHz: number, highestHz: number) {
    const markerFrames = Math.ceil(MARKER_SECONDS * sampleRateHz);
    const taperFrames = Math.round(TAPER_SECONDS * sampleRateHz);
    this.blockFrames = transformLength(3 * markerFrames);
    this.firstFrame = taperFrames;
    this.endFrame = this.blockFrames - markerFrames - taperFrames;
    let places = this.blockFrames;
    while ((places / 2) * sampleRateHz >= LEAST_CORRELATION_RATE_HZ * this.blockFrames) places /= 2;
    this.framesPerPlace = this.blockFrames / places;
    this.#fft = new RealFft(this.blockFrames);
    this.#inverse = new FFT(places);
    this.#placed = this.#inverse.createComplexArray();
    this.#levelled = this.#inverse.createComplexArray();
    this.correlation = { start: this.#inverse.createComplexArray(), end: this.#inverse.createComplexArray() };
    this.#energyBefore = new Float64Array(places + 1);
    this.#windowPlaces = Math.round(markerFrames / this.framesPerPlace);
    this.#bins = markerBins(sampleRateHz, this.blockFrames, highestHz);
    this.#reach = Math.round((WHITENING_HALF_HZ * this.blockFrames) / sampleRateHz);
    this.#powerBefore = new Float64Array(this.#bins.last + this.#reach + 2);
    this.#templates = {
      start: markerTemplate('start', sampleRateHz, this.blockFrames, this.#bins),
      end: markerTemplate('end', sampleRateHz, this.blockFrames, this.#bins),
    };
    this.#taper = new Float64Array(taperFrames);
    for (let frame = 0; frame < taperFrames; frame += 1) {
      this.#taper[frame] = 0.5 - 0.5 * Math.cos((Math.PI * (frame + 0.5)) / taperFrames);
    }
  }

  /**
   * Fills `correlation` from a block; returns false, and leaves it as it was, where the band is silent.
   *
   * @param block `blockFrames` samples; kept as they are
   */
  correlate(block: Float64Array): boolean {
    const { input } = this.#fft;
    input.set(block);
    const last = this.blockFrames - 1;
    for (let frame = 0; frame < this.#taper.length; frame += 1) {
      input[frame]! *= this.#taper[frame]!;
      input[last - frame]! *= this.#taper[frame]!;
    }
    this.#fft.transform();
    if (!this.#whiten()) return false;
    this.#inverse.inverseTransform(this.#levelled, this.#placed);
    this.#sumEnergy();
    this.#matchTo('start');
    this.#matchTo('end');
    return true;
  }

  /**
   * Likeness, 0 to 1, of the block from `place` on with a marker: normalised envelope of the correlation. In
   * stationary Gaussian noise it exceeds `r` with the chance `exp(-B T r^2)`, B T = 1382 for the whole band.
   */
  likeness(end: MarkerEnd, place: number): number {
    const before = this.#energyBefore;
    const windowEnd = Math.min(place + this.#windowPlaces, before.length - 1);
    const energy = before[windowEnd]! - before[place]!;
    const blockMean = before[before.length - 1]! / (before.length - 1);
    if (energy < SILENT_SHARE * blockMean * this.#windowPlaces) return 0;
    const correlation = this.correlation[end];
    const places = before.length - 1;
    return Math.sqrt(((correlation[2 * place]! ** 2 + correlation[2 * place + 1]! ** 2) * places) / energy);
  }

  #whiten(): boolean {
    const { spectrum } = this.#fft;
    const { first, last } = this.#bins;
    const before = this.#powerBefore;
    const reach = this.#reach;
    const lowest = Math.max(0, first - reach);
    before[lowest] = 0;
    for (let bin = lowest; bin <= last + reach; bin += 1) {
      const inside = 2 * bin <= this.blockFrames;
      const power = inside ? spectrum[2 * bin]! ** 2 + spectrum[2 * bin + 1]! ** 2 : 0;
      before[bin + 1] = before[bin]! + power;
    }
    let strongest = 0;
    for (let bin = first; bin <= last; bin += 1) {
      strongest = Math.max(strongest, before[bin + reach + 1]! - before[Math.max(lowest, bin - reach)]!);
    }
    if (!(strongest > 0)) return false;
    this.#placed.fill(0);
    const middle = (first + last) >> 1;
    const places = this.blockFrames / this.framesPerPlace;
    for (let bin = first; bin <= last; bin += 1) {
      const around = before[bin + reach + 1]! - before[Math.max(lowest, bin - reach)]!;
      const gain = 1 / Math.sqrt(around + WHITENING_FLOOR * strongest);
      const slot = (bin - middle + places) % places;
      this.#placed[2 * slot] = spectrum[2 * bin]! * gain;
      this.#placed[2 * slot + 1] = spectrum[2 * bin + 1]! * gain;
    }
    return true;
  }

  #sumEnergy(): void {
    const before = this.#energyBefore;
    for (let place = 0; place < before.length - 1; place += 1) {
      before[place + 1] =
        before[place]! + this.#levelled[2 * place]! ** 2 + this.#levelled[2 * place + 1]! ** 2;
    }
  }

  /** Multiplies the levelled spectrum, in `#levelled` afterwards, by the marker's conjugate, and transforms back. */
  #matchTo(end: MarkerEnd): void {
    const template = this.#templates[end];
    const { first, last } = this.#bins;
    const middle = (first + last) >> 1;
    const places = this.blockFrames / this.framesPerPlace;
    this.#levelled.fill(0);
    for (let bin = first; bin <= last; bin += 1) {
      const slot = (bin - middle + places) % places;
      const real = this.#placed[2 * slot]!;
      const imaginary = this.#placed[2 * slot + 1]!;
      const templateReal = template[2 * (bin - first)]!;
      const templateImaginary = template[2 * (bin - first) + 1]!;
      this.#levelled[2 * slot] = real * templateReal - imaginary * templateImaginary;
      this.#levelled[2 * slot + 1] = real * templateImaginary + imaginary * templateReal;
    }
    this.#inverse.inverseTransform(this.correlation[end], this.#levelled);
  }
}
