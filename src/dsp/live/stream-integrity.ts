/**
 * Finds lost audio in the samples themselves. Browsers replace lost blocks by
 * exact zeros, or drop them, and no counter of theirs says so
 * (platform notes, finding 1); the block counters only show what is lost
 * between the source and this Worker.
 */
import type { LiveBlock } from './live-block.ts';

/** A converter's noise never gives so many exact zeros in a row. */
const ZERO_RUN_FRAMES = 32;
/** A browser's capture buffer holds about 0.1 s; zeros for longer than this come from the source. */
const SILENCE_SECONDS = 0.25;
/**
 * Zeros next to samples smaller than this (four steps of 16 bits) may be a
 * faint low tone in its own rounding; a hole in a useful signal has a taller edge.
 */
const QUIET_EDGE = 4 / 32768;

export type StreamFault = 'gap' | 'digital-silence' | 'not-a-number';

export class StreamIntegrity {
  readonly #silenceFrames: number;
  /** Newest frame each fault lies in; a window that reaches back to it is spoilt. */
  readonly #lastFrame: Record<StreamFault, number> = blank();
  #expectedSequence = -1;
  #expectedFrame = -1;
  #zeroRun = 0;
  #loudBeforeRun = false;
  #heardAnything = false;

  constructor(sampleRateHz: number) {
    this.#silenceFrames = Math.round(SILENCE_SECONDS * sampleRateHz);
  }

  /** Call for each block, in order. @returns false if the stream does not continue the previous block. */
  push(block: LiveBlock): boolean {
    const continues = this.#checkCounters(block);
    const frames = block.channels[0]?.length ?? 0;
    if (block.facts.emptyQuanta > 0) this.#mark('gap', block.startFrame + frames - 1);
    if (block.facts.notANumber > 0) this.#mark('not-a-number', block.startFrame + frames - 1);
    this.#scanZeros(block, frames);
    return continues;
  }

  /** Whether this fault lies in the window of `windowFrames` that ends just before `endFrame`. */
  touches(fault: StreamFault, endFrame: number, windowFrames: number): boolean {
    return this.#lastFrame[fault] >= endFrame - windowFrames;
  }

  reset(): void {
    Object.assign(this.#lastFrame, blank());
    this.#expectedSequence = -1;
    this.#expectedFrame = -1;
    this.#zeroRun = 0;
    this.#heardAnything = false;
  }

  #checkCounters(block: LiveBlock): boolean {
    const first = this.#expectedSequence < 0;
    const jumped =
      !first && (block.sequence !== this.#expectedSequence || block.startFrame !== this.#expectedFrame);
    this.#expectedSequence = block.sequence + 1;
    this.#expectedFrame = block.startFrame + (block.channels[0]?.length ?? 0);
    if (jumped || (!first && block.facts.missedFrames > 0)) this.#mark('gap', block.startFrame);
    return !jumped;
  }

  #scanZeros(block: LiveBlock, frames: number): void {
    for (let i = 0; i < frames; i++) {
      const loudest = peakAt(block.channels, i);
      if (loudest === 0) {
        this.#zeroRun++;
        if (this.#zeroRun >= this.#silenceFrames) this.#mark('digital-silence', block.startFrame + i);
        continue;
      }
      if (this.#zeroRun > 0) this.#closeRun(loudest, block.startFrame + i);
      this.#heardAnything = true;
      this.#loudBeforeRun = loudest > QUIET_EDGE;
    }
    const last = block.startFrame + frames - 1;
    // A run still open at the block's end already spoils the window it lies in.
    if (this.#zeroRun >= ZERO_RUN_FRAMES && this.#zeroRun < this.#silenceFrames && this.#heardAnything)
      if (this.#loudBeforeRun) this.#mark('gap', last);
    if (!this.#heardAnything) this.#mark('digital-silence', last);
  }

  #closeRun(edge: number, frame: number): void {
    const sharp = this.#loudBeforeRun || edge > QUIET_EDGE;
    const hole = this.#zeroRun >= ZERO_RUN_FRAMES && this.#zeroRun < this.#silenceFrames;
    if (this.#heardAnything && hole && sharp) this.#mark('gap', frame - 1);
    this.#zeroRun = 0;
  }

  #mark(fault: StreamFault, frame: number): void {
    this.#lastFrame[fault] = Math.max(this.#lastFrame[fault], frame);
  }
}

/** A dead channel beside a live one is not a hole: only frames that are zero in every channel count. */
function peakAt(channels: readonly Float32Array[], frame: number): number {
  let peak = 0;
  for (let c = 0; c < channels.length; c++) {
    const value = Math.abs((channels[c] as Float32Array)[frame] as number);
    // NaN compares false and would pass for silence.
    if (!(value <= peak)) peak = Number.isNaN(value) ? 1 : value;
  }
  return peak;
}

function blank(): Record<StreamFault, number> {
  return { gap: -Infinity, 'digital-silence': -Infinity, 'not-a-number': -Infinity };
}
