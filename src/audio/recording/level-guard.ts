/**
 * Watches every sample of a recording: peaks, and how often the input stood at its extreme codes. Allocates nothing
 * per block.
 */

/** Of 16 bits the highest code; converters of more bits, and browsers that hand out floats, clip here or above. */
const EXTREME = 32_767 / 32_768;
/** One sample at the extreme may be a lone crest; as many in a row are a crest cut off. */
const OVERLOAD_RUN = 3;

export interface LevelFigures {
  /** Since the last look, over all channels; full scale 1.0. */
  peak: number;
  /** Since the beginning. */
  highestPeak: number;
  overloads: number;
}

export class LevelGuard {
  readonly #channelCount: number;
  readonly #runs: Int32Array;
  #peak = 0;
  #highestPeak = 0;
  #overloads = 0;

  constructor(channelCount: number) {
    this.#channelCount = channelCount;
    this.#runs = new Int32Array(channelCount);
  }

  get overloads(): number {
    return this.#overloads;
  }

  /** @param interleaved frame by frame */
  push(interleaved: Float32Array, frames: number): void {
    const channels = this.#channelCount;
    for (let place = 0; place < frames * channels; place += 1) {
      const size = Math.abs(interleaved[place] as number);
      if (size > this.#peak) this.#peak = size;
      const channel = place % channels;
      if (size < EXTREME) this.#runs[channel] = 0;
      else {
        const run = (this.#runs[channel] as number) + 1;
        this.#runs[channel] = run;
        if (run === OVERLOAD_RUN) this.#overloads += 1;
      }
    }
    if (this.#peak > this.#highestPeak) this.#highestPeak = this.#peak;
  }

  /** What was seen since the last look. */
  look(): LevelFigures {
    const figures = { peak: this.#peak, highestPeak: this.#highestPeak, overloads: this.#overloads };
    this.#peak = 0;
    return figures;
  }
}
