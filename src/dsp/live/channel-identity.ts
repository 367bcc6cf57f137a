/**
 * Whether two channels are two: many inputs offer "stereo" and deliver one
 * channel twice. Told by comparing samples bit for bit; a converter's noise
 * never repeats itself.
 */
import type { ChannelIdentity } from '../reading.ts';

export class ChannelIdentityWatch {
  #lastDifference = Number.NEGATIVE_INFINITY;

  push(channels: readonly Float32Array[], startFrame: number): void {
    const first = channels[0];
    if (first === undefined) return;
    for (let c = 1; c < channels.length; c++) {
      const other = channels[c] as Float32Array;
      // From the block's end: the newest difference is the one that counts.
      for (let i = first.length - 1; i >= 0; i--) {
        if (first[i] === other[i]) continue;
        this.#lastDifference = Math.max(this.#lastDifference, startFrame + i);
        break;
      }
    }
  }

  /** Of the window of `windowFrames` that ends just before `endFrame`. */
  identity(channelCount: number, endFrame: number, windowFrames: number): ChannelIdentity {
    if (channelCount < 2) return 'mono';
    return this.#lastDifference < endFrame - windowFrames ? 'dual-mono' : 'stereo';
  }
}
