/** Between the analysis Worker, which sees every block, and the recorder's Worker, which writes them down. */
import { BLOCK_FRAMES } from '../blocks.ts';

/** Four blocks: what a page that dies can lose of a recording, 85 ms at 48 kHz. */
export const SLAB_FRAMES = 4 * BLOCK_FRAMES;

/** From the analysis Worker to the recorder's. */
export type SlabMessage =
  | { type: 'begin'; sampleRateHz: number; channelCount: number }
  /** Interleaved samples; the buffer is transferred. `gapFrames` of them are silence in place of what never came. */
  | { type: 'slab'; samples: Float32Array<ArrayBuffer>; frames: number; gapFrames: number }
  /** @property sentence why, where nobody asked for it; else `null` */
  | { type: 'end'; sentence: string | null };

/** Back: a buffer to be filled again. */
export interface SlabBack {
  type: 'slab-back';
  samples: Float32Array<ArrayBuffer>;
}
