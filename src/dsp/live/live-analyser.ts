/**
 * From blocks to readings, some twenty a second: keeps the newest samples,
 * measures a window of them at each hop, and grades what it measured.
 */
import type { Band, ChannelReading, Doubt, LiveReading } from '../reading.ts';
import { ChannelIdentityWatch } from './channel-identity.ts';
import { byWeight, gradeOf } from './grade.ts';
import { LevelMotion } from './level-motion.ts';
import type { LiveBlock } from './live-block.ts';
import { PhaseTrack } from './phase-track.ts';
import { SampleRing } from './sample-ring.ts';
import { StreamIntegrity } from './stream-integrity.ts';
import { longestWindowFrames, windowFramesFor } from './window-length.ts';

/** Measures one window of one channel; owns its buffers. */
export interface WindowReader {
  analyse(samples: Float32Array, options: { band: Band; expectedHz: number | null }): ChannelReading;
}

export type MakeWindowReader = (windowFrames: number, sampleRateHz: number) => WindowReader;

export interface LiveOptions {
  sampleRateHz: number;
  channelCount: number;
  band: Band;
  /** The tone that should be heard, or `null` to find whatever stands out. */
  expectedHz: number | null;
  /** Readings before this are graded invalid: both capture paths stumble as they start. */
  warmUpSeconds: number;
}

const READINGS_PER_SECOND = 20;
/** A channel this far below the loudest holds crosstalk or noise. */
const CROSSTALK_DB = 40;
/** A phase that has run true this long ends a long warm-up early (platform notes, 2.3). */
const SETTLED_SECONDS = 2;

export class LiveAnalyser {
  readonly #options: LiveOptions;
  readonly #makeReader: MakeWindowReader;
  readonly #readers = new Map<number, WindowReader>();
  readonly #integrity: StreamIntegrity;
  readonly #phase: PhaseTrack;
  readonly #identity = new ChannelIdentityWatch();
  #rings: SampleRing[] = [];
  #motions: LevelMotion[] = [];
  #window = new Float32Array(0);
  #standing: Doubt[] = [];
  #phaseChannel = 0;
  #startFrame = -1;
  #nextFrame = 0;
  #warm = false;
  /** Raised by the owner when analysis takes longer than the hop. */
  hopSeconds = 1 / READINGS_PER_SECOND;

  constructor(options: LiveOptions, makeReader: MakeWindowReader) {
    this.#options = { ...options };
    this.#makeReader = makeReader;
    this.#integrity = new StreamIntegrity(options.sampleRateHz);
    this.#phase = new PhaseTrack(options.sampleRateHz);
    this.#openChannels(options.channelCount);
  }

  /**
   * Takes one block; it may be reused as soon as this returns.
   * @returns a reading when one is due, else `null`. Allocates only the reading.
   */
  push(block: LiveBlock): LiveReading | null {
    if (block.channels.length !== this.#rings.length) this.#openChannels(block.channels.length);
    const frames = block.channels[0]?.length ?? 0;
    const endFrame = block.startFrame + frames;
    if (this.#startFrame < 0) {
      this.#startFrame = block.startFrame;
      this.#nextFrame = block.startFrame;
    }
    this.#integrity.push(block);
    this.#identity.push(block.channels, block.startFrame);
    for (let c = 0; c < this.#rings.length; c++) this.#rings[c]?.write(block.channels[c] as Float32Array);
    if (endFrame < this.#nextFrame || this.#rings.length === 0) return null;
    if ((this.#rings[0] as SampleRing).framesWritten < this.#window.length) return null;
    this.#scheduleAfter(endFrame);
    return this.#read(endFrame);
  }

  /** Applies from the next reading on. `standingDoubts` are facts the samples cannot show, such as a hidden page. */
  configure(change: { band?: Band; expectedHz?: number | null; standingDoubts?: Doubt[] }): void {
    if (change.band !== undefined) this.#options.band = change.band;
    if (change.expectedHz !== undefined) {
      this.#options.expectedHz = change.expectedHz;
      this.#chooseWindow(change.expectedHz);
    }
    if (change.standingDoubts !== undefined) this.#standing = change.standingDoubts;
  }

  /** Forgets every sample, and warms up anew. */
  reset(): void {
    for (const ring of this.#rings) ring.clear();
    for (const motion of this.#motions) motion.reset();
    this.#integrity.reset();
    this.#phase.reset();
    this.#startFrame = -1;
    this.#warm = false;
  }

  #openChannels(count: number): void {
    const capacity = longestWindowFrames(this.#options.sampleRateHz);
    this.#rings = Array.from({ length: count }, () => new SampleRing(capacity));
    this.#motions = Array.from({ length: count }, () => new LevelMotion(this.#options.sampleRateHz));
    this.reset();
    this.#chooseWindow(this.#options.expectedHz);
  }

  #chooseWindow(toneHz: number | null): void {
    const frames = windowFramesFor(toneHz, this.#options.sampleRateHz, this.#window.length);
    if (frames === this.#window.length) return;
    this.#window = new Float32Array(frames);
    for (const motion of this.#motions) motion.reset();
  }

  #scheduleAfter(endFrame: number): void {
    const hop = this.hopSeconds * this.#options.sampleRateHz;
    this.#nextFrame += hop;
    if (this.#nextFrame <= endFrame) this.#nextFrame = endFrame + hop;
  }

  #read(endFrame: number): LiveReading {
    const { sampleRateHz, band, expectedHz } = this.#options;
    const windowFrames = this.#window.length;
    const reader = this.#readerFor(windowFrames);
    const channels: ChannelReading[] = [];
    const moves: boolean[] = [];
    for (let c = 0; c < this.#rings.length; c++) {
      (this.#rings[c] as SampleRing).copyNewest(this.#window);
      const reading = reader.analyse(this.#window, { band, expectedHz });
      channels.push(reading);
      moves.push((this.#motions[c] as LevelMotion).isChanging(this.#window, reading, endFrame));
    }
    const changing = moves.some((moved, c) => moved && carriesSignal(channels, c));
    const doubts = this.#doubts(channels, changing, endFrame);
    const loudest = channels[loudestTone(channels)]?.tone ?? null;
    if (expectedHz === null) this.#chooseWindow(loudest?.frequencyHz ?? null);
    const motion = changing ? 'changing' : 'steady';
    const channelIdentity = this.#identity.identity(channels.length, endFrame, windowFrames);
    const grade = gradeOf(doubts);
    return { endFrame, windowFrames, sampleRateHz, grade, doubts, motion, channelIdentity, channels };
  }

  #doubts(channels: readonly ChannelReading[], changing: boolean, endFrame: number): Doubt[] {
    const windowFrames = this.#window.length;
    const found: Doubt[] = [...this.#standing];
    for (const fault of ['gap', 'digital-silence', 'not-a-number'] as const)
      if (this.#integrity.touches(fault, endFrame, windowFrames)) found.push(fault);
    if (this.#phaseBreaks(channels, endFrame)) found.push('phase-break');
    if (channels.some((channel) => channel.clipping.verdict === 'input-overload'))
      found.push('input-overload');
    if (changing) found.push('level-unsteady');
    if (!this.#isWarm(endFrame)) found.push('warming-up');
    return byWeight(found);
  }

  #phaseBreaks(channels: readonly ChannelReading[], endFrame: number): boolean {
    // A tone that is gone everywhere is still missed where it was last.
    const anyTone = channels.some((channel) => channel.tone !== null);
    const followed = anyTone ? loudestTone(channels) : this.#phaseChannel;
    if (followed !== this.#phaseChannel) this.#phase.reset();
    this.#phaseChannel = followed;
    const leaps = this.#motions[followed]?.leaps ?? false;
    return this.#phase.breaksIn(channels[followed]?.tone ?? null, endFrame, this.#window.length, leaps);
  }

  #isWarm(endFrame: number): boolean {
    if (this.#warm) return true;
    const { sampleRateHz, warmUpSeconds } = this.#options;
    // The whole window must lie past the warm-up, not only its end.
    const cleanSeconds = (endFrame - this.#window.length - this.#startFrame) / sampleRateHz;
    const settled = warmUpSeconds > SETTLED_SECONDS && this.#phase.stableSeconds(endFrame) >= SETTLED_SECONDS;
    this.#warm = cleanSeconds >= warmUpSeconds || settled;
    return this.#warm;
  }

  #readerFor(windowFrames: number): WindowReader {
    let reader = this.#readers.get(windowFrames);
    if (reader === undefined) {
      reader = this.#makeReader(windowFrames, this.#options.sampleRateHz);
      this.#readers.set(windowFrames, reader);
    }
    return reader;
  }
}

/** An unconnected channel's noise wanders; it must not make a steady tone beside it look unsteady. */
function carriesSignal(channels: readonly ChannelReading[], index: number): boolean {
  const loudest = channels[loudestTone(channels)];
  const own = channels[index];
  if (loudest?.tone && !own?.tone) return false;
  const loudestLevel = Math.max(...channels.map((channel) => channel.levelDbfs ?? Number.NEGATIVE_INFINITY));
  return (own?.levelDbfs ?? Number.NEGATIVE_INFINITY) > loudestLevel - CROSSTALK_DB;
}

/** Channel that carries the strongest tone; the first if none does. */
function loudestTone(channels: readonly ChannelReading[]): number {
  let best = 0;
  let level = Number.NEGATIVE_INFINITY;
  for (let c = 0; c < channels.length; c++) {
    const tone = channels[c]?.tone;
    if (tone && tone.levelDbfs > level) {
      level = tone.levelDbfs;
      best = c;
    }
  }
  return best;
}
