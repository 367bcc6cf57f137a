/**
 * Keeps the next so many frames of a source whole, beside the live analysis.
 * All room is made when the take begins: a block is only copied into it.
 */
import type { LiveBlock } from '../../dsp/live/live-block.ts';
import { StreamIntegrity } from '../../dsp/live/stream-integrity.ts';
import type { Doubt } from '../../dsp/reading.ts';

export interface GatheredTake {
  startFrame: number;
  channels: Float32Array<ArrayBuffer>[];
  doubts: Doubt[];
}

export interface TakeOrder {
  id: number;
  frames: number;
  /** Blocks that begin before it are passed by. */
  fromFrame: number;
  channelCount: number;
  sampleRateHz: number;
}

export class TakeGatherer {
  readonly id: number;
  readonly #frames: number;
  readonly #fromFrame: number;
  readonly #integrity: StreamIntegrity;
  readonly #channels: Float32Array<ArrayBuffer>[];
  #written = 0;
  #startFrame = -1;

  /** @throws RangeError for a length that is no whole number of frames above 0 */
  constructor({ id, frames, fromFrame, channelCount, sampleRateHz }: TakeOrder) {
    if (!(Number.isInteger(frames) && frames > 0)) {
      throw new RangeError(
        `A recording of ${frames} frames cannot be made: it must be a whole number above 0.`,
      );
    }
    this.id = id;
    this.#frames = frames;
    this.#fromFrame = fromFrame;
    this.#integrity = new StreamIntegrity(sampleRateHz);
    this.#channels = Array.from({ length: channelCount }, () => new Float32Array(frames));
  }

  /** Copies what is still wanted of the block. @returns true once the take is whole */
  push(block: LiveBlock): boolean {
    if (block.startFrame < this.#fromFrame) return false;
    if (this.#startFrame < 0) this.#startFrame = block.startFrame;
    this.#integrity.push(block);
    const length = block.channels[0]?.length ?? 0;
    const wanted = Math.min(length, this.#frames - this.#written);
    for (let c = 0; c < this.#channels.length; c++) {
      const samples = block.channels[c];
      const room = this.#channels[c] as Float32Array;
      if (samples === undefined) continue;
      for (let i = 0; i < wanted; i++)
        room[this.#written + i] = Number.isFinite(samples[i]) ? (samples[i] as number) : 0;
    }
    this.#written += wanted;
    return this.#written === this.#frames;
  }

  /** @param standing what is known against the source as a whole */
  finish(standing: readonly Doubt[]): GatheredTake {
    const endFrame = this.#startFrame + this.#frames;
    const found = (['gap', 'digital-silence', 'not-a-number'] as const).filter((fault) =>
      this.#integrity.touches(fault, endFrame, this.#frames),
    );
    return { startFrame: this.#startFrame, channels: this.#channels, doubts: [...standing, ...found] };
  }
}
