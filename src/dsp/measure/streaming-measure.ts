import { CoarseToneFinder } from '../fit/coarse-tone.ts';
import { AUDIO_BAND, type Band, type ChannelReading } from '../reading.ts';
import { ChannelMeasurer } from './channel-measurer.ts';

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
 * `tone` is the one that stands out (3 dB over everything that is not a harmonic of it) and holds its
 * level (0.5 dB) and phase over at least four fifths of the record; fades at its ends are left out of it. It is
 * `null` for noise, music, sweeps, silence, and records of fewer than 2 cycles or 64 frames. From 2 to 3 cycles
 * the tone must carry 95 % of the power, or it could be a drift.
 * `levelDbfs` is the whole record's; where the tone fills the record, part cycles at its ends do not
 * bias it. Digital silence has `null` levels.
 *
 * NaN and infinite samples are the caller's to refuse: one of them spoils every figure after it.
 */
export class StreamMeasurer {
  readonly #channels: ChannelMeasurer[] = [];

  /** @throws RangeError unless there is a channel, a positive rate, and a band that is not empty */
  constructor(options: StreamMeasurerOptions) {
    const { sampleRateHz, channelCount, band = AUDIO_BAND } = options;
    if (!(sampleRateHz > 0 && channelCount >= 1 && band.lowHz < band.highHz)) {
      throw new RangeError(
        `Cannot measure ${channelCount} channels at ${sampleRateHz} Hz from ${band.lowHz} to ${band.highHz} Hz.`,
      );
    }
    const finders = new Map<number, CoarseToneFinder>();
    const finderFor = (frames: number) => {
      const finder = finders.get(frames) ?? new CoarseToneFinder(frames, sampleRateHz);
      finders.set(frames, finder);
      return finder;
    };
    for (let channel = 0; channel < channelCount; channel += 1) {
      this.#channels.push(new ChannelMeasurer(sampleRateHz, band, finderFor));
    }
  }

  /**
   * @param channels one buffer for each channel, full scale 1.0; only read, never kept
   * @param frames how many samples at the front of each buffer count
   * @throws RangeError for another number of channels, or buffers shorter than `frames`
   */
  push(channels: readonly (Float32Array | Float64Array)[], frames: number): void {
    if (channels.length !== this.#channels.length) {
      throw new RangeError(
        `A block of ${channels.length} channels; the record has ${this.#channels.length}.`,
      );
    }
    for (const samples of channels) {
      if (samples.length < frames) {
        throw new RangeError(`A block of ${samples.length} samples cannot hold ${frames} frames.`);
      }
    }
    this.#channels.forEach((channel, index) => {
      channel.push(channels[index]!, frames);
    });
  }

  /** One reading for each channel, in order. */
  finish(): ChannelReading[] {
    return this.#channels.map((channel) => channel.finish());
  }
}
