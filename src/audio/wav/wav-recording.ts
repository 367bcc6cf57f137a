import type { WavInfo } from './open-wav.ts';
import { readFrames } from './read-frames.ts';

/** A WAV file of which any stretch can be had, all channels at once. */
export interface WavRecording {
  sampleRateHz: number;
  channelCount: number;
  frames: number;
  /** A fresh array for each channel. @throws RangeError outside the file, WavError at a sample that is no finite number */
  read(startFrame: number, frames: number): Promise<Float32Array[]>;
}

export function wavRecording(info: WavInfo): WavRecording {
  const { sampleRateHz, channelCount, frames } = info;
  return {
    sampleRateHz,
    channelCount,
    frames,
    async read(startFrame, count) {
      const channels = Array.from({ length: channelCount }, () => new Float32Array(count));
      await readFrames(info, startFrame, count, channels);
      return channels;
    },
  };
}
