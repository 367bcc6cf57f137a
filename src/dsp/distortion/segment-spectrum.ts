import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { fitAtKnownFrequency, type KnownFrequencyFit } from '../fit/known-frequency-fit.ts';
import type { RealTransform } from '../spectrum/abreast.ts';
import { kaiserResponse } from '../spectrum/kaiser.ts';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { TwinFft } from '../spectrum/twin-fft.ts';
import { emptyView } from './empty-view.ts';
import { type FittedWindow, KaiserShelf } from './kaiser-shelf.ts';
import { LineReadout } from './line-readout.ts';
import { NoiseDensity } from './noise-density.ts';
import { overlapPower, overlapVariance } from './overlap.ts';
import { windowedResidual } from './residual.ts';

export interface SegmentSpectrumOptions {
  /** Samples in a segment; transforms are padded to a power of two. */
  frames: number;
  sampleRateHz: number;
  /** No tone lower than this will be asked for: it bounds how many harmonics and windows are held. */
  lowestHz: number;
  /** Segments are transformed two at a time, which is quicker where many follow each other. */
  twins?: boolean;
}

/**
 * Harmonics and noise of a steady tone, averaged over segments.
 *
 * Of every segment the fundamental and DC are taken out by a least-squares fit, the rest is windowed
 * (Kaiser) and transformed. Each harmonic's complex amplitude is read from the bin nearest to it and
 * turned to the fundamental's own phase in that segment, so that the mean over segments is coherent even
 * where the two clocks drift. The noise is read between the harmonics.
 */
export class SegmentSpectrum {
  readonly frames: number;
  readonly noise: NoiseDensity;
  readonly view: HarmonicView;
  segments = 0;
  /** Fundamental of the segment added last, at its first sample. Where segments go two at a time, `settle` first. */
  last: KnownFrequencyFit = { dc: 0, re: 0, im: 0 };
  readonly #sampleRateHz: number;
  readonly #fft: RealTransform;
  readonly #shelf: KaiserShelf;
  readonly #power: Float64Array;
  readonly #lines: LineReadout;
  readonly #sumCosine: Float64Array;
  readonly #sumSine: Float64Array;
  /** Fundamentals of the segments that lie in the transform's input. */
  readonly #waiting: readonly KnownFrequencyFit[];
  #waitingCount = 0;
  #window: FittedWindow;
  #w = 0;
  #sumAmplitude = 0;
  #sumDc = 0;

  constructor(options: SegmentSpectrumOptions) {
    this.frames = options.frames;
    this.#sampleRateHz = options.sampleRateHz;
    const length = transformLength(options.frames);
    this.#fft = options.twins === true ? new TwinFft(length) : new RealFft(length);
    this.#waiting = Array.from({ length: this.#fft.abreast }, () => ({ dc: 0, re: 0, im: 0 }));
    this.#shelf = new KaiserShelf(options.frames, (options.lowestHz * options.frames) / options.sampleRateHz);
    this.#window = this.#shelf.pick(0);
    this.#power = new Float64Array(this.#fft.length / 2 + 1);
    const most = Math.ceil(options.sampleRateHz / 2 / options.lowestHz);
    this.#lines = new LineReadout(most + 1);
    this.#sumCosine = new Float64Array(most);
    this.#sumSine = new Float64Array(most);
    this.noise = new NoiseDensity(this.#fft.length, most + 2);
    this.view = emptyView(options.sampleRateHz, most);
  }

  /** Forgets all segments. @param frequencyHz of the tone in those to come */
  begin(frequencyHz: number): void {
    const { view } = this;
    view.frequencyHz = frequencyHz;
    this.#w = (2 * Math.PI * frequencyHz) / this.#sampleRateHz;
    const spacing = (frequencyHz * this.frames) / this.#sampleRateHz;
    this.#window = this.#shelf.pick(spacing);
    const highest = this.#sampleRateHz / 2 - (this.#window.mainLobeBins * this.#sampleRateHz) / this.frames;
    view.count = Math.min(view.cosine.length, Math.max(0, Math.floor(highest / frequencyHz) - 1));
    this.#lines.begin(this.#w, this.#window, this.#fft.length, view.count + 1);
    this.#power.fill(0);
    this.#sumCosine.fill(0);
    this.#sumSine.fill(0);
    this.segments = 0;
    this.#waitingCount = 0;
    this.#sumAmplitude = 0;
    this.#sumDc = 0;
  }

  /**
   * Takes in `frames` samples from `from` on.
   *
   * @param fundamental the plain fit over these samples, where it is known already
   */
  add(
    samples: Float32Array | Float64Array,
    from: number,
    fundamental: KnownFrequencyFit | null = null,
  ): void {
    const fit = this.#waiting[this.#waitingCount]!;
    if (fundamental === null) fitAtKnownFrequency(samples, from, this.frames, this.#w, fit);
    else {
      fit.dc = fundamental.dc;
      fit.re = fundamental.re;
      fit.im = fundamental.im;
    }
    const { input, abreast } = this.#fft;
    windowedResidual(samples, from, fit, this.#w, this.#window.samples, input, this.#waitingCount, abreast);
    this.#waitingCount += 1;
    this.segments += 1;
    if (this.#waitingCount === abreast) this.settle();
  }

  /** Transforms what waits for a twin. */
  settle(): void {
    const count = this.#waitingCount;
    if (count === 0) return;
    const { input, abreast } = this.#fft;
    if (count < abreast) for (let n = count; n < input.length; n += abreast) input[n] = 0;
    this.#fft.transform();
    for (let signal = 0; signal < count; signal += 1) {
      this.last = this.#waiting[signal]!;
      this.#refineFundamental(signal);
      this.#sumAmplitude += Math.hypot(this.last.re, this.last.im);
      this.#sumDc += this.last.dc;
      this.#gatherHarmonics(signal);
    }
    this.#fft.addPower(this.#power);
    this.#waitingCount = 0;
  }

  /**
   * From here on two segments so far count as one, so that those to come, twice as far apart, weigh as
   * much for their time. Asks for an even number of segments.
   */
  countInPairs(): void {
    this.settle();
    for (let bin = 0; bin < this.#power.length; bin += 1) this.#power[bin] = this.#power[bin]! / 2;
    for (let held = 0; held < this.#sumCosine.length; held += 1) {
      this.#sumCosine[held] = this.#sumCosine[held]! / 2;
      this.#sumSine[held] = this.#sumSine[held]! / 2;
    }
    this.#sumAmplitude /= 2;
    this.#sumDc /= 2;
    this.segments /= 2;
  }

  /**
   * Works the view and the noise out of the segments added so far.
   *
   * @param hopFrames from one segment to the next, for what their overlap tells twice
   */
  finish(hopFrames: number): void {
    this.settle();
    const { view, segments } = this;
    const { beta, mainLobeBins, samples, sum, sumOfSquares } = this.#window;
    const pad = this.#fft.length / this.frames;
    const spacingBins = (view.frequencyHz * this.#fft.length) / this.#sampleRateHz;
    this.noise.measure(this.#power, {
      spacingBins,
      excludedBins: mainLobeBins * pad,
      segments,
      sumOfSquares,
      scatter: overlapPower(samples, hopFrames, segments),
    });
    view.amplitude = this.#sumAmplitude / segments;
    view.dc = this.#sumDc / segments;
    const shrink = overlapVariance(samples, hopFrames, segments);
    for (let held = 0; held < view.count; held += 1) {
      view.cosine[held] = this.#sumCosine[held]! / segments;
      view.sine[held] = this.#sumSine[held]! / segments;
      const atBin = (held + 2) * spacingBins;
      const gain = sum * kaiserResponse(beta, (Math.round(atBin) - atBin) / pad);
      const binPower = this.noise.besideHarmonic(held + 2) * sumOfSquares;
      view.sigma[held] = Math.sqrt(2 * binPower * shrink) / gain;
    }
    view.noiseRms = Math.sqrt(this.noise.total());
  }

  /** What harmonics leaked into the plain fit stands in the windowed residual at the fundamental and at DC. */
  #refineFundamental(signal: number): void {
    const { last } = this;
    const lines = this.#lines;
    lines.read(this.#fft, signal, 1);
    last.re += lines.re;
    last.im += lines.im;
    this.#fft.bin(signal, 0, lines);
    last.dc += lines.re / this.#window.sum;
  }

  #gatherHarmonics(signal: number): void {
    const lines = this.#lines;
    const phase = Math.atan2(this.last.im, this.last.re);
    const stepCosine = Math.cos(phase);
    const stepSine = Math.sin(phase);
    let cosine = Math.cos(2 * phase);
    let sine = Math.sin(2 * phase);
    for (let held = 0; held < this.view.count; held += 1) {
      lines.read(this.#fft, signal, held + 2);
      this.#sumCosine[held] = this.#sumCosine[held]! + lines.re * cosine + lines.im * sine;
      this.#sumSine[held] = this.#sumSine[held]! + lines.re * sine - lines.im * cosine;
      const turned = cosine * stepCosine - sine * stepSine;
      sine = sine * stepCosine + cosine * stepSine;
      cosine = turned;
    }
  }
}
