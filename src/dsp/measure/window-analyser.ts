import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { ROOMY_SPACING_BINS } from '../distortion/kaiser-shelf.ts';
import { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import { blockTonesOf, readBlockTones } from '../fit/block-tones.ts';
import { CoarseToneFinder } from '../fit/coarse-tone.ts';
import { refinedFrequency } from '../fit/refined-frequency.ts';
import { emptyLineSums, ToneBlocks } from '../fit/tone-blocks.ts';
import { type FittedTone, fitTone } from '../fit/tone-fit.ts';
import { CodeCounter } from '../level/code-counter.ts';
import { LevelMeter } from '../level/level-meter.ts';
import { TruePeakMeter } from '../level/true-peak.ts';
import type { Band, ChannelReading } from '../reading.ts';
import { channelReading } from './channel-reading.ts';
import { HarmonicPeeler } from './harmonic-peeler.ts';
import { FEWEST_CYCLES, FEWEST_FRAMES, standsOut, strongEnoughToTry } from './standing-out.ts';
import { STEADY_WINDOW, steadiestStretch, worstPhase } from './steadiness.ts';
import { toneReading } from './tone-reading.ts';
import { steadyMeanSquare } from './whole-level.ts';

/** The window is looked at in this many pieces to see whether the tone held still. */
const PIECES = 16;

/**
 * Radians over the window by which harmonics may have pulled the bare fit before they are read anew:
 * 0.0002 bins, so that the 20th is read within 0.004 bins.
 */
const MOVED = 1.3e-3;

/** Below this many cycles a window's lobes leak so much that peeling once leaves 0.02 % and more of THD's figure. */
const VERY_FEW_CYCLES = 6;

export interface WindowAnalyserOptions {
  /** Samples in every window, 4096 to 65536 live; any number from 64 up. */
  frames: number;
  sampleRateHz: number;
}

export interface WindowOptions {
  /** Stretch of spectrum for distortion and noise. */
  band: Band;
  /** Where the tone should be; it is then found beneath stronger noise. `null` takes the strongest line. */
  expectedHz: number | null;
}

/**
 * Measures one window of samples at a time. All buffers are made once; a call allocates its result and
 * a few small records, nothing that grows with the window.
 *
 * Silence gives `null` levels and no tone. NaN and infinite samples are the caller's to refuse.
 */
export class WindowAnalyser {
  readonly frames: number;
  readonly #sampleRateHz: number;
  readonly #level = new LevelMeter();
  readonly #peak = new TruePeakMeter();
  readonly #codes = new CodeCounter();
  readonly #finder: CoarseToneFinder;
  readonly #spectrum: SegmentSpectrum;
  readonly #blocks = new ToneBlocks(2 * PIECES);
  readonly #pieces = blockTonesOf(2 * PIECES);
  readonly #sums = emptyLineSums();
  readonly #peeler: HarmonicPeeler;

  /** @throws RangeError for fewer than 64 frames or a rate that is not positive */
  constructor(options: WindowAnalyserOptions) {
    const { frames, sampleRateHz } = options;
    if (!(Number.isInteger(frames) && frames >= FEWEST_FRAMES && sampleRateHz > 0)) {
      throw new RangeError(
        `A window of ${frames} frames at ${sampleRateHz} Hz; it needs ${FEWEST_FRAMES} or more.`,
      );
    }
    this.frames = frames;
    this.#sampleRateHz = sampleRateHz;
    this.#finder = new CoarseToneFinder(frames, sampleRateHz);
    this.#peeler = new HarmonicPeeler(frames);
    const lowestHz = (FEWEST_CYCLES * sampleRateHz) / frames;
    this.#spectrum = new SegmentSpectrum({ frames, sampleRateHz, lowestHz });
  }

  /** Harmonics of the window analysed last; overwritten by the next call, meaningless where its tone was `null`. */
  get harmonics(): HarmonicView {
    return this.#spectrum.view;
  }

  /** @param samples exactly `frames` of them, full scale 1.0; only read */
  analyse(samples: Float32Array | Float64Array, options: WindowOptions): ChannelReading {
    if (samples.length !== this.frames) {
      throw new RangeError(`A window of ${samples.length} samples; this analyser takes ${this.frames}.`);
    }
    this.#level.reset();
    this.#peak.reset();
    this.#codes.reset();
    this.#level.push(samples, 0, this.frames);
    this.#peak.push(samples, 0, this.frames);
    this.#codes.push(samples, 0, this.frames);
    const fitted = this.#fit(samples, options.expectedHz);
    const common = {
      samplePeak: this.#level.samplePeak,
      interpolatedPeak: this.#peak.peak,
      codes: this.#codes.facts,
    };
    if (fitted === null) {
      const { variance: meanSquare, mean: dc } = this.#level;
      return channelReading({ ...common, meanSquare, dc, tone: null, view: null, sigmaFactor: 1 });
    }
    const view = this.#spectrum.view;
    this.#blocks.sums(fitted.angularFrequency, 0, this.#blocks.count, this.#sums);
    return channelReading({
      ...common,
      meanSquare: steadyMeanSquare(this.#level, fitted, this.#sums, view.dc),
      dc: view.dc,
      tone: toneReading(fitted, fitted.amplitude, this.#spectrum, this.#sampleRateHz, options.band),
      view,
      sigmaFactor: this.#spectrum.noise.besideUncertaintyFactor(),
    });
  }

  #fit(samples: Float32Array | Float64Array, expectedHz: number | null): FittedTone | null {
    const coarse = this.#finder.find(samples, expectedHz);
    if (coarse === null || !strongEnoughToTry(coarse, expectedHz)) return null;
    const blocks = this.#blocks;
    const framesPerCycle = this.#sampleRateHz / coarse.frequencyHz;
    if (this.frames < FEWEST_CYCLES * framesPerCycle) return null;
    const start = (2 * Math.PI) / framesPerCycle;
    const blockFrames = Math.ceil(Math.max(this.frames / PIECES, framesPerCycle));
    const refined = refinedFrequency(blocks, samples, this.frames, start, blockFrames);
    if (refined === null) return null;
    blocks.begin(refined, blockFrames);
    blocks.push(samples, 0, this.frames);
    blocks.close();
    let tone = this.#fitWithHarmonics(samples, refined);
    const cycles = (this.frames * refined) / (2 * Math.PI);
    if (cycles < ROOMY_SPACING_BINS) {
      if (tone !== null) tone = this.#fitPeeled(samples, tone);
      if (tone !== null && cycles < VERY_FEW_CYCLES) tone = this.#fitPeeled(samples, tone);
    } else if (tone !== null && Math.abs(tone.angularFrequency - refined) * this.frames > MOVED) {
      tone = this.#fitWithHarmonics(samples, tone.angularFrequency);
    }
    if (tone === null || !standsOut(tone, this.#spectrum, expectedHz)) return null;
    return this.#heldStill(tone) ? tone : null;
  }

  /** Reads the harmonics with the tone at `w` radians per frame, then fits with them taken out. */
  #fitWithHarmonics(samples: Float32Array | Float64Array, w: number): FittedTone | null {
    const spectrum = this.#spectrum;
    spectrum.begin((w * this.#sampleRateHz) / (2 * Math.PI));
    spectrum.add(samples, 0);
    spectrum.finish(this.frames);
    return fitTone(this.#blocks, 0, this.#blocks.count, w, spectrum.view);
  }

  /** Reads everything anew with the strongest harmonics out of each other's way. */
  #fitPeeled(samples: Float32Array | Float64Array, known: FittedTone): FittedTone | null {
    const spectrum = this.#spectrum;
    const w = known.angularFrequency;
    const peeled = this.#peeler.peel(samples, spectrum, known);
    spectrum.begin((w * this.#sampleRateHz) / (2 * Math.PI));
    spectrum.add(peeled, 0);
    spectrum.finish(this.frames);
    this.#peeler.putBack(spectrum, w);
    return fitTone(this.#blocks, 0, this.#blocks.count, w, spectrum.view);
  }

  #heldStill(tone: FittedTone): boolean {
    const pieces = readBlockTones(this.#blocks, tone, this.#spectrum.view, this.#pieces);
    const variance = this.#spectrum.noise.besideHarmonic(1);
    const noise = Math.sqrt((2 * variance) / this.#blocks.blockFrames) / tone.amplitude;
    const stretch = steadiestStretch(pieces, STEADY_WINDOW, noise);
    if (stretch.last - stretch.first < pieces.count) return false;
    return worstPhase(pieces, stretch) <= STEADY_WINDOW.phaseRadians + 6 * noise;
  }
}
