/**
 * Plays a WAV file into the measuring path as a sound card would: in blocks, at
 * real time. Unlike a sound card it can wait, so it never drops a frame.
 */
import { BLOCK_FRAMES } from '../blocks.ts';
import type { BlockGatherer } from '../capture/block-gatherer.ts';
import type { WavInfo } from '../wav/open-wav.ts';
import { readFrames } from '../wav/read-frames.ts';

/** Longest stretch handed out in one go after a stall; the rest follows at the next turn. */
const CATCH_UP_BLOCKS = 8;

export class FilePacer {
  readonly #info: WavInfo;
  readonly #gatherer: BlockGatherer;
  readonly #loop: boolean;
  readonly #buffers: Float32Array[];
  #position = 0;
  #delivered = 0;
  #runningSinceMs = Number.NaN;
  #deliveredBefore = 0;

  /** @param loop begin again at the end; the seam is heard as it is, a break unless the file was made to loop. */
  constructor(info: WavInfo, gatherer: BlockGatherer, loop: boolean) {
    this.#info = info;
    this.#gatherer = gatherer;
    this.#loop = loop;
    this.#buffers = Array.from({ length: info.channelCount }, () => new Float32Array(BLOCK_FRAMES));
  }

  run(nowMs: number): void {
    this.#runningSinceMs = nowMs;
    this.#deliveredBefore = this.#delivered;
  }

  pause(): void {
    this.#runningSinceMs = Number.NaN;
  }

  /**
   * Hands out what is due at `nowMs`.
   * @returns false when the file has come to its end.
   * @throws WavError at a sample that is not a number.
   */
  async turn(nowMs: number): Promise<boolean> {
    if (Number.isNaN(this.#runningSinceMs)) return true;
    const elapsedSeconds = (nowMs - this.#runningSinceMs) / 1000;
    const due =
      this.#deliveredBefore + Math.floor(elapsedSeconds * this.#info.sampleRateHz) - this.#delivered;
    const blocks = Math.min(CATCH_UP_BLOCKS, Math.floor(due / BLOCK_FRAMES));
    for (let i = 0; i < blocks && this.#gatherer.hasRoom; i++) if (!(await this.#block())) return false;
    return true;
  }

  async #block(): Promise<boolean> {
    if (this.#position >= this.#info.frames) {
      if (!this.#loop) return false;
      this.#position = 0;
    }
    const frames = Math.min(BLOCK_FRAMES, this.#info.frames - this.#position);
    await readFrames(this.#info, this.#position, frames, this.#buffers);
    this.#gatherer.write(this.#buffers, frames);
    this.#position += frames;
    this.#delivered += frames;
    return true;
  }
}
