import { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import { blockTonesOf, readBlockTones } from '../fit/block-tones.ts';
import { HopSums } from '../fit/hop-sums.ts';
import type { KnownFrequencyFit } from '../fit/known-frequency-fit.ts';
import type { LineSums, ToneBlocks } from '../fit/tone-blocks.ts';
import { type FittedTone, fitTone } from '../fit/tone-fit.ts';
import { quarterPowers, SegmentGate } from './segment-gate.ts';
import type { SegmentPlan } from './segment-plan.ts';
import { LEAST_SHARE, standsOut } from './standing-out.ts';
import { STEADY_RECORD, steadiestStretch, wanderLoss, withoutFades, worstPhase } from './steadiness.ts';

/** A tone that holds for less than this share of the record is not the record's tone. */
const LEAST_COVERAGE = 0.8;

/**
 * After this many segments, 22 s and more, every second one is enough: what is left overlaps by half, so
 * every sample still counts, and the noise is known so well by then that the closer overlap adds nothing.
 */
const DENSE_SEGMENTS = 256;

/** What a followed tone comes to. */
export interface FollowedTone {
  tone: FittedTone;
  /** Peak of the fundamental, full scale 1.0: the fit's, made good for what the clocks' wander took from it. */
  amplitude: number;
  spectrum: SegmentSpectrum;
  /** Whether the tone fills every frame it was followed over, fades excluded from "fills". */
  unbroken: boolean;
}

/** Follows one tone through a stream: moments for the fit, averaged segments for distortion and noise. */
export class ToneFollower {
  readonly spectrum: SegmentSpectrum;
  readonly #plan: SegmentPlan;
  readonly #blocks: ToneBlocks;
  readonly #gate = new SegmentGate();
  readonly #startAt: number;
  readonly #pending: Float64Array;
  /** Where segments are four hops long, what they share; a record's one short segment may be longer. */
  readonly #hopSums: HopSums | null;
  readonly #powers = new Float64Array(4);
  readonly #fundamental = { dc: 0, re: 0, im: 0 };
  /** Samples held, and where among them the next segment begins. */
  #held = 0;
  #next = 0;
  #lost = false;
  #hopsApart = 1;
  #hopsSince = 0;

  /** @param blocks already begun at the tone's frequency and empty */
  constructor(frequencyHz: number, sampleRateHz: number, plan: SegmentPlan, blocks: ToneBlocks) {
    this.#plan = plan;
    this.#blocks = blocks;
    this.#startAt = (2 * Math.PI * frequencyHz) / sampleRateHz;
    this.#pending = new Float64Array(2 * plan.segmentFrames + plan.hopFrames);
    const frames = plan.segmentFrames;
    this.#hopSums = frames === 4 * plan.hopFrames ? new HopSums(plan.hopFrames, 4, this.#startAt) : null;
    this.spectrum = new SegmentSpectrum({ frames, sampleRateHz, lowestHz: frequencyHz * 0.97, twins: true });
    this.spectrum.begin(frequencyHz);
  }

  /** Whether most of what came so far has a level that another line than this one makes. */
  get lost(): boolean {
    return this.#lost;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    this.#blocks.push(samples, from, to);
    const { segmentFrames, hopFrames } = this.#plan;
    for (let start = from; start < to; ) {
      const count = Math.min(to - start, this.#pending.length - this.#held);
      for (let n = 0; n < count; n += 1) this.#pending[this.#held + n] = samples[start + n]!;
      this.#held += count;
      start += count;
      for (; this.#held - this.#next >= segmentFrames; this.#next += hopFrames) this.#addNextSegment();
      if (this.#held === this.#pending.length) this.#forget();
    }
  }

  /** Frequency as the samples so far give it with the harmonics taken out, radians per frame; `null` where they do not. */
  betterFrequency(): number | null {
    if (this.spectrum.segments === 0 || this.#blocks.count === 0) return null;
    this.spectrum.finish(this.#plan.hopFrames * this.#hopsApart);
    const tone = fitTone(this.#blocks, 0, this.#blocks.count, this.#startAt, this.spectrum.view);
    return tone?.angularFrequency ?? null;
  }

  /** @param recordFrames of the whole record, what came before the tone included */
  finish(recordFrames: number): FollowedTone | null {
    const blocks = this.#blocks;
    blocks.close();
    this.#addLastSegment();
    const { spectrum } = this;
    if (spectrum.segments === 0) return null;
    spectrum.finish(this.#plan.hopFrames * this.#hopsApart);
    const overall = fitTone(blocks, 0, blocks.count, this.#startAt, spectrum.view);
    if (overall === null || !standsOut(overall, spectrum, null)) return null;
    const tones = readBlockTones(blocks, overall, spectrum.view, blockTonesOf(blocks.count));
    const noise = this.#relativeNoise(overall);
    const steady = steadiestStretch(tones, STEADY_RECORD, noise);
    const stretch = withoutFades(tones, steady, noise);
    const frames = blocks.frameOf(stretch.last) - blocks.frameOf(stretch.first);
    if (frames < LEAST_COVERAGE * recordFrames) return null;
    const tone = fitTone(blocks, stretch.first, stretch.last, overall.angularFrequency, spectrum.view);
    if (tone === null || !standsOut(tone, spectrum, null)) return null;
    readBlockTones(blocks, tone, spectrum.view, tones);
    if (worstPhase(tones, stretch) > STEADY_RECORD.phaseRadians + 6 * noise) return null;
    const loss = wanderLoss(tones, stretch, noise);
    return { tone, amplitude: tone.amplitude / loss, spectrum, unbroken: frames === recordFrames };
  }

  /** Sums at the tone over everything followed. */
  sums(tone: FittedTone, into: LineSums): LineSums {
    return this.#blocks.sums(tone.angularFrequency, 0, this.#blocks.count, into);
  }

  #relativeNoise(tone: FittedTone): number {
    const variance = this.spectrum.noise.besideHarmonic(1);
    return Math.sqrt((2 * variance) / this.#blocks.blockFrames) / tone.amplitude;
  }

  #addNextSegment(): void {
    const sums = this.#hopSums;
    if (sums === null) {
      this.#addSegment(this.#next);
      return;
    }
    sums.advance(this.#pending, this.#next);
    for (let part = 0; part < 4; part += 1) this.#powers[part] = sums.power(part);
    this.#admit(this.#next, this.#powers, sums.fit(this.#fundamental));
  }

  /** A segment that does not follow the one before by a hop. */
  #addSegment(from: number): void {
    const quarterFrames = this.#plan.segmentFrames >> 2;
    this.#admit(from, quarterPowers(this.#pending, from, quarterFrames, this.#powers), null);
  }

  #admit(from: number, powers: Float64Array, fundamental: KnownFrequencyFit | null): void {
    const admission = this.#gate.judge(powers, this.#plan.segmentFrames >> 2);
    if (admission === 'skip') return;
    const { spectrum } = this;
    const again = admission === 'restart' && spectrum.segments > 0;
    this.#hopsSince += 1;
    if (!again && this.#hopsSince < this.#hopsApart) return;
    this.#hopsSince = 0;
    if (again) {
      spectrum.begin(spectrum.view.frequencyHz);
      this.#hopsApart = 1;
    }
    spectrum.add(this.#pending, from, fundamental);
    if (this.#hopsApart === 1 && spectrum.segments === DENSE_SEGMENTS) {
      spectrum.countInPairs();
      this.#hopsApart = 2;
    }
    if (again) {
      spectrum.settle();
      const { dc, re, im } = spectrum.last;
      this.#lost = re * re + im * im < 2 * LEAST_SHARE * (this.#gate.meanSquare - dc * dc);
    }
  }

  /** The record's end seldom falls on a hop: one more segment ends with it. A record of one segment is taken as it is. */
  #addLastSegment(): void {
    const { segmentFrames, hopFrames } = this.#plan;
    const from = this.#held - segmentFrames;
    if (from > this.#next - hopFrames && this.#next > 0) this.#addSegment(from);
    if (this.spectrum.segments === 0 && this.#blocks.frames === segmentFrames)
      this.spectrum.add(this.#pending, from);
  }

  /** Keeps what the next segment needs, and one hop before it for a last segment that ends with the record. */
  #forget(): void {
    const keepFrom = Math.max(0, this.#next - this.#plan.hopFrames);
    this.#pending.copyWithin(0, keepFrom, this.#held);
    this.#held -= keepFrom;
    this.#next -= keepFrom;
  }
}
