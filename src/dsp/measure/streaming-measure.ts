import { AUDIO_BAND, type Band, type ChannelReading } from '../reading.ts';

export interface StreamMeasurerOptions {
  sampleRateHz: number;
  channelCount: number;
  /** Stretch of spectrum for distortion and noise; 20 Hz to 20 kHz unless given. */
  band?: Band;
}

/**
 * Measures a record of any length in constant memory, in one pass: push every block in order, then
 * call `finish` once.
 *
 * NaN and infinite samples are the caller's to refuse: one of them spoils every figure after it.
 */
export class StreamMeasurer {
  readonly #options: Required<StreamMeasurerOptions>;

  constructor(options: StreamMeasurerOptions) {
    this.#options = { band: AUDIO_BAND, ...options };
  }

  /**
   * @param channels one buffer for each channel, full scale 1.0; only read, never kept
   * @param frames how many samples at the front of each buffer count
   */
  push(channels: readonly (Float32Array | Float64Array)[], frames: number): void {
    if (channels.length !== this.#options.channelCount || frames < 0) {
      throw new RangeError('A block must hold every channel.');
    }
  }

  /** One reading for each channel, in order. */
  finish(): ChannelReading[] {
    throw new Error('The measuring pass is not written yet.');
  }
}
