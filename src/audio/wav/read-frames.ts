import { decodeChannel } from './decode-samples.ts';
import type { WavInfo } from './open-wav.ts';
import { WavError } from './wav-error.ts';

/** A stretch of a file. The buffers are used again for the next one. */
export interface WavBlock {
  startFrame: number;
  /** How many frames of each buffer count; fewer than its length in the last block only. */
  frames: number;
  /** One buffer for each channel. */
  channels: Float32Array<ArrayBuffer>[];
}

function refuseNotFinite(
  info: WavInfo,
  samples: Float32Array,
  channel: number,
  start: number,
  frames: number,
): void {
  for (let frame = 0; frame < frames; frame += 1) {
    const sample = samples[frame]!;
    if (Number.isFinite(sample)) continue;
    const what = Number.isNaN(sample) ? 'not a number' : 'infinite';
    const seconds = ((start + frame) / info.sampleRateHz).toFixed(4);
    throw new WavError(
      `Frame ${start + frame} (at ${seconds} s) of channel ${channel} is ${what}; every sample must be a finite number.`,
    );
  }
}

/**
 * Reads `frames` frames from `startFrame` into one buffer for each channel, from `firstChannel` on.
 *
 * @throws RangeError when stretch or channels lie outside the file, WavError at a sample that is NaN or infinite
 */
export async function readFrames(
  info: WavInfo,
  startFrame: number,
  frames: number,
  into: readonly Float32Array[],
  firstChannel = 0,
): Promise<void> {
  if (startFrame < 0 || startFrame + frames > info.frames) {
    throw new RangeError(
      `Frames ${startFrame} to ${startFrame + frames} lie outside the file's ${info.frames} frames.`,
    );
  }
  if (firstChannel < 0 || firstChannel + into.length > info.channelCount) {
    throw new RangeError(
      `Channels ${firstChannel} to ${firstChannel + into.length} lie outside the file's ${info.channelCount}.`,
    );
  }
  const { bytesPerFrame, sampleFormat } = info;
  const bytes = await info.bytes.read(info.dataOffset + startFrame * bytesPerFrame, frames * bytesPerFrame);
  const mayHoldNotFinite = sampleFormat === 'float32' || sampleFormat === 'float64';
  for (const [place, samples] of into.entries()) {
    const channel = firstChannel + place;
    decodeChannel(bytes, sampleFormat, channel, bytesPerFrame, samples, frames);
    if (mayHoldNotFinite) refuseNotFinite(info, samples, channel, startFrame, frames);
  }
}

export interface WavStretch {
  /** First frame; 0 by default. */
  startFrame?: number;
  /** Frame just past the last; the file's end by default. */
  endFrame?: number;
  /** 0 by default. */
  firstChannel?: number;
  /** The first channel and all behind it by default. */
  channelCount?: number;
  blockFrames: number;
}

/** The file, or a stretch of it, block by block in constant memory: one block object, filled anew each time. */
export async function* wavBlocks(info: WavInfo, stretch: WavStretch): AsyncGenerator<WavBlock, void> {
  const { startFrame = 0, endFrame = info.frames, blockFrames } = stretch;
  const { firstChannel = 0, channelCount = info.channelCount - firstChannel } = stretch;
  const channels = Array.from({ length: channelCount }, () => new Float32Array(blockFrames));
  const block: WavBlock = { startFrame, frames: 0, channels };
  for (let frame = startFrame; frame < endFrame; frame += blockFrames) {
    block.startFrame = frame;
    block.frames = Math.min(blockFrames, endFrame - frame);
    await readFrames(info, frame, block.frames, channels, firstChannel);
    yield block;
  }
}
