import type { CoarseToneFinder } from '../fit/coarse-tone.ts';
import { refinedFrequency } from '../fit/refined-frequency.ts';
import { emptyLineSums, ToneBlocks } from '../fit/tone-blocks.ts';
import type { ToneBound } from '../fit/tone-fit.ts';
import { CodeCounter } from '../level/code-counter.ts';
import { LevelMeter } from '../level/level-meter.ts';
import { TruePeakMeter } from '../level/true-peak.ts';
import type { Band, ChannelReading } from '../reading.ts';
import { channelReading } from './channel-reading.ts';
import { FEW_CYCLES, type FewCycles, readFewCycles } from './few-cycles.ts';
import { type SegmentPlan, searchFrames, segmentPlan } from './segment-plan.ts';
import { FEWEST_CYCLES, FEWEST_FRAMES, strongEnoughToTry } from './standing-out.ts';
import { type FollowedTone, ToneFollower } from './tone-follower.ts';
import { toneReading } from './tone-reading.ts';
import { steadyMeanSquare } from './whole-level.ts';

/** Blocks of the demodulated record that are kept apart. */
const BLOCKS_KEPT = 2048;

/**
 * Radians over the samples at hand by which harmonics may have pulled the bare fit: 2e-6 bins, so that a
 * line is read within a millionth of itself (a third of that for each bin it is off) and its noise, not
 * this, decides at 100 dB.
 */
const MOVED = 1.3e-5;

/** Hands out a finder for so many frames; channels share it, since it keeps nothing between calls. */
export type FinderFor = (frames: number) => CoarseToneFinder;

/** One channel of a stream: levels of every sample, and the tone as soon as one is found. */
export class ChannelMeasurer {
  readonly #sampleRateHz: number;
  readonly #band: Band;
  readonly #finderFor: FinderFor;
  readonly #level = new LevelMeter();
  readonly #peak = new TruePeakMeter();
  readonly #codes = new CodeCounter();
  readonly #blocks = new ToneBlocks(BLOCKS_KEPT);
  /** Samples in which a tone is being looked for. */
  readonly #head: Float64Array;
  #headFrames = 0;
  #follower: ToneFollower | null = null;

  constructor(sampleRateHz: number, band: Band, finderFor: FinderFor) {
    this.#sampleRateHz = sampleRateHz;
    this.#band = band;
    this.#finderFor = finderFor;
    this.#head = new Float64Array(searchFrames(sampleRateHz));
  }

  push(samples: Float32Array | Float64Array, frames: number): void {
    this.#level.push(samples, 0, frames);
    this.#peak.push(samples, 0, frames);
    // The record's extremes so far hold for this block too.
    this.#codes.pushWithin(this.#level.highest, this.#level.lowest, samples, frames);
    for (let start = 0; start < frames; ) {
      if (this.#follower !== null) {
        this.#follower.push(samples, start, frames);
        start = frames;
        if (this.#follower.lost) this.#follower = null;
        continue;
      }
      const count = Math.min(frames - start, this.#head.length - this.#headFrames);
      for (let n = 0; n < count; n += 1) this.#head[this.#headFrames + n] = samples[start + n]!;
      this.#headFrames += count;
      start += count;
      if (this.#headFrames === this.#head.length) this.#search();
    }
  }

  finish(): ChannelReading {
    if (this.#follower === null) this.#search();
    const followed = this.#follower?.finish(this.#level.frames) ?? null;
    const few = this.#fewCycles(followed);
    if (few !== null) return this.#reading(few, few.tone.amplitude, few.meanSquare, few.bound);
    if (followed === null) return this.#reading(null, 0, this.#level.variance, null);
    const meanSquare = followed.unbroken ? this.#steadyMeanSquare(followed) : null;
    return this.#reading(followed, followed.amplitude, meanSquare, null);
  }

  /** @param meanSquare `null` where the tone does not fill the record: then level and DC are those of its samples */
  #reading(
    found: Pick<FollowedTone, 'tone' | 'spectrum'> | null,
    amplitude: number,
    meanSquare: number | null,
    bound: ToneBound | null,
  ): ChannelReading {
    const { variance, mean, samplePeak } = this.#level;
    const view = found?.spectrum.view ?? null;
    return channelReading({
      meanSquare: meanSquare ?? variance,
      dc: view === null || meanSquare === null ? mean : view.dc,
      samplePeak,
      interpolatedPeak: this.#peak.peak,
      codes: this.#codes.facts,
      tone:
        found && toneReading(found.tone, amplitude, found.spectrum, this.#sampleRateHz, this.#band, bound),
      view,
      sigmaFactor: found?.spectrum.noise.besideUncertaintyFactor() ?? 1,
    });
  }

  /** The tone of a short record fitted anew with everything in it, where few cycles are all there is. */
  #fewCycles(followed: FollowedTone | null): FewCycles | null {
    const { frames } = this.#level;
    if (frames < FEWEST_FRAMES || frames > this.#head.length) return null;
    const startHz =
      followed === null ? null : (followed.tone.angularFrequency * this.#sampleRateHz) / (2 * Math.PI);
    if (startHz !== null && startHz * frames > FEW_CYCLES * this.#sampleRateHz) return null;
    return readFewCycles(this.#head.subarray(0, frames), this.#sampleRateHz, startHz);
  }

  #steadyMeanSquare(followed: FollowedTone): number {
    const sums = this.#follower!.sums(followed.tone, emptyLineSums());
    return steadyMeanSquare(this.#level, followed.tone, sums, followed.spectrum.view.dc);
  }

  /** Looks for a tone in the samples at hand; follows it from their first on, or lets them go. */
  #search(): void {
    const frames = this.#headFrames;
    this.#headFrames = 0;
    if (frames < FEWEST_FRAMES) return;
    const coarse = this.#finderFor(frames).find(this.#head, null);
    if (coarse === null || !strongEnoughToTry(coarse, null)) return;
    if (frames * coarse.frequencyHz < FEWEST_CYCLES * this.#sampleRateHz) return;
    const plan = segmentPlan(coarse.frequencyHz, this.#sampleRateHz, frames);
    const start = (2 * Math.PI * coarse.frequencyHz) / this.#sampleRateHz;
    const refined = refinedFrequency(this.#blocks, this.#head, frames, start, plan.blockFrames) ?? start;
    // Harmonics pull the bare fit; once they are known, everything starts over at the better frequency.
    const better = this.#follow(refined, plan, frames).betterFrequency();
    if (better !== null && Math.abs(better - refined) * frames > MOVED) this.#follow(better, plan, frames);
  }

  /** Follows a tone at `w` radians per frame from the first sample at hand. */
  #follow(w: number, plan: SegmentPlan, frames: number): ToneFollower {
    this.#blocks.begin(w, plan.blockFrames);
    const frequencyHz = (w * this.#sampleRateHz) / (2 * Math.PI);
    this.#follower = new ToneFollower(frequencyHz, this.#sampleRateHz, plan, this.#blocks);
    this.#follower.push(this.#head, 0, frames);
    return this.#follower;
  }
}
