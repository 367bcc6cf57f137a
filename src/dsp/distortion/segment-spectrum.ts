import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { fitAtKnownFrequency, type KnownFrequencyFit } from '../fit/known-frequency-fit.ts';
import { kaiserResponse } from '../spectrum/kaiser.ts';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { type FittedWindow, KaiserShelf } from './kaiser-shelf.ts';
import { NoiseDensity } from './noise-density.ts';
import { overlapVariance } from './overlap.ts';

export interface SegmentSpectrumOptions {
  /** Samples in a segment; transforms are padded to a power of two. */
  frames: number;
  sampleRateHz: number;
  /** No tone lower than this will be asked for: it bounds how many harmonics and windows are held. */
  lowestHz: number;
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
  /** Fundamental of the segment added last, at its first sample. */
  readonly last = { dc: 0, re: 0, im: 0 };
  readonly #sampleRateHz: number;
  readonly #fft: RealFft;
  readonly #shelf: KaiserShelf;
  readonly #power: Float64Array;
  readonly #sumCosine: Float64Array;
  readonly #sumSine: Float64Array;
  #window: FittedWindow;
  #w = 0;
  #sumAmplitude = 0;
  #sumDc = 0;

  constructor(options: SegmentSpectrumOptions) {
    this.frames = options.frames;
    this.#sampleRateHz = options.sampleRateHz;
    this.#fft = new RealFft(transformLength(options.frames));
    this.#shelf = new KaiserShelf(options.frames, (options.lowestHz * options.frames) / options.sampleRateHz);
    this.#window = this.#shelf.pick(0);
    this.#power = new Float64Array(this.#fft.length / 2 + 1);
    const most = Math.ceil(options.sampleRateHz / 2 / options.lowestHz);
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
    this.#power.fill(0);
    this.#sumCosine.fill(0);
    this.#sumSine.fill(0);
    this.segments = 0;
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
    const { last } = this;
    if (fundamental === null) fitAtKnownFrequency(samples, from, this.frames, this.#w, last);
    else {
      last.dc = fundamental.dc;
      last.re = fundamental.re;
      last.im = fundamental.im;
    }
    this.#transformResidual(samples, from);
    this.#refineFundamental();
    this.#sumAmplitude += Math.hypot(last.re, last.im);
    this.#sumDc += last.dc;
    this.#gatherHarmonics();
    const { spectrum } = this.#fft;
    for (let b = 0; b < this.#power.length; b += 1) {
      const re = spectrum[2 * b]!;
      const im = spectrum[2 * b + 1]!;
      this.#power[b] = this.#power[b]! + re * re + im * im;
    }
    this.segments += 1;
  }

  /**
   * Works the view and the noise out of the segments added so far.
   *
   * @param hopFrames from one segment to the next, for what their overlap tells twice
   */
  finish(hopFrames: number): void {
    const { view, segments } = this;
    const { beta, mainLobeBins, samples, sum, sumOfSquares } = this.#window;
    const pad = this.#fft.length / this.frames;
    const spacingBins = (view.frequencyHz * this.#fft.length) / this.#sampleRateHz;
    this.noise.measure(this.#power, {
      spacingBins,
      excludedBins: mainLobeBins * pad,
      segments,
      sumOfSquares,
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

  #transformResidual(samples: Float32Array | Float64Array, from: number): void {
    const { last } = this;
    const { input } = this.#fft;
    const window = this.#window.samples;
    let re = last.re;
    let im = last.im;
    const stepCosine = Math.cos(this.#w);
    const stepSine = Math.sin(this.#w);
    for (let n = 0; n < this.frames; n += 1) {
      input[n] = (samples[from + n]! - last.dc - re) * window[n]!;
      const turned = re * stepCosine - im * stepSine;
      im = im * stepCosine + re * stepSine;
      re = turned;
    }
    this.#fft.transform();
  }

  /** What harmonics leaked into the plain fit stands in the windowed residual at the fundamental and at DC. */
  #refineFundamental(): void {
    const { last } = this;
    const line = this.#lineAt(1);
    last.re += line.re;
    last.im += line.im;
    last.dc += this.#fft.spectrum[0]! / this.#window.sum;
  }

  #gatherHarmonics(): void {
    const phase = Math.atan2(this.last.im, this.last.re);
    for (let held = 0; held < this.view.count; held += 1) {
      const order = held + 2;
      const line = this.#lineAt(order);
      const cosine = Math.cos(order * phase);
      const sine = Math.sin(order * phase);
      this.#sumCosine[held] = this.#sumCosine[held]! + line.re * cosine + line.im * sine;
      this.#sumSine[held] = this.#sumSine[held]! + line.re * sine - line.im * cosine;
    }
  }

  readonly #line = { re: 0, im: 0 };

  /** Complex amplitude (peak, at the segment's first sample) of the residual's line at a multiple of the tone. */
  #lineAt(order: number): { re: number; im: number } {
    const { spectrum, length } = this.#fft;
    const atBin = (order * this.#w * length) / (2 * Math.PI);
    const bin = Math.min(Math.round(atBin), length / 2);
    const away = bin - atBin;
    const gain = 2 / (this.#window.sum * kaiserResponse(this.#window.beta, (away * this.frames) / length));
    // The window is centred on sample frames/2, where a line `away` bins off has turned by this much.
    const turn = (Math.PI * away * this.frames) / length;
    const cosine = Math.cos(turn) * gain;
    const sine = Math.sin(turn) * gain;
    this.#line.re = spectrum[2 * bin]! * cosine - spectrum[2 * bin + 1]! * sine;
    this.#line.im = spectrum[2 * bin + 1]! * cosine + spectrum[2 * bin]! * sine;
    return this.#line;
  }
}

function emptyView(sampleRateHz: number, most: number): HarmonicView {
  return {
    sampleRateHz,
    frequencyHz: 0,
    amplitude: 0,
    dc: 0,
    count: 0,
    cosine: new Float64Array(most),
    sine: new Float64Array(most),
    sigma: new Float64Array(most),
    noiseRms: 0,
  };
}
