/**
 * Reads a track's frames as the capture process delivers them, past the audio
 * graph and its second clock. Allocates only when the size of a lot changes.
 *
 * The lots' own time stamps are not used to find losses: with no frame missing
 * they were seen to jump by a whole lot, 21.6 ms (tests/bench/capture-paths).
 */
import type { BlockGatherer } from './block-gatherer.ts';
import type { AudioFrames } from './track-command.ts';

export interface FrameFormat {
  sampleRateHz: number;
  channelCount: number;
}

export class TrackReader {
  readonly #gatherer: BlockGatherer;
  #lot: Float32Array[] = [];
  #format: FrameFormat | null = null;
  #paused = false;

  constructor(gatherer: BlockGatherer) {
    this.#gatherer = gatherer;
  }

  pause(): void {
    this.#paused = true;
    // No block may hold samples from before and after the pause.
    this.#gatherer.skip(0);
  }

  resume(): void {
    this.#paused = false;
  }

  /**
   * Takes one lot and closes it.
   * @returns its format if this is the first, else `null`.
   * @throws Error when the rate changes on the way: the readings would be of another frequency.
   */
  take(frames: AudioFrames): FrameFormat | null {
    try {
      const opened = this.#checkFormat(frames);
      if (!this.#paused) {
        this.#prepareLot(frames.numberOfChannels, frames.numberOfFrames);
        for (let c = 0; c < this.#lot.length; c++)
          frames.copyTo(this.#lot[c] as Float32Array, { planeIndex: c, format: 'f32-planar' });
        this.#gatherer.write(this.#lot, frames.numberOfFrames);
      }
      return opened;
    } finally {
      frames.close();
    }
  }

  #checkFormat(frames: AudioFrames): FrameFormat | null {
    if (this.#format === null) {
      this.#format = { sampleRateHz: frames.sampleRate, channelCount: frames.numberOfChannels };
      return this.#format;
    }
    if (frames.sampleRate !== this.#format.sampleRateHz)
      throw new Error(
        `The input changed its rate from ${this.#format.sampleRateHz} to ${frames.sampleRate} Hz; start it again.`,
      );
    return null;
  }

  #prepareLot(channels: number, frames: number): void {
    if (this.#lot.length === channels && this.#lot[0]?.length === frames) return;
    this.#lot = Array.from({ length: channels }, () => new Float32Array(frames));
  }
}
