/**
 * The one path of samples: every source (sound card, WAV file, practice rig)
 * posts these blocks, and the analysis Worker hands each buffer back.
 */
import type { Band, Doubt, LiveReading } from '../dsp/reading.ts';

/** Frames in each block that a source posts: eight render quanta of 128. */
export const BLOCK_FRAMES = 1024;

/** From a source to the analysis Worker. The buffers are transferred, not copied. */
export interface BlockMessage {
  type: 'block';
  /** Counts blocks posted by this source since it started; a missing number is a lost block. */
  sequence: number;
  /** Source's own count of the first frame in this block. */
  startFrame: number;
  /** One buffer for each channel, `BLOCK_FRAMES` long. */
  channels: Float32Array<ArrayBuffer>[];
  /** Statistics that the source takes of every sample, so that nothing shown can miss them. */
  facts: BlockFacts;
}

/** Counted where samples arrive, before anything can be dropped for display. */
export interface BlockFacts {
  /** Longest run of exact zeros in the block, over all channels, frames. */
  longestZeroRun: number;
  /** Render quanta in which the source delivered no channels at all. */
  emptyQuanta: number;
  /** Frames by which the source's clock jumped ahead of the frames delivered. */
  missedFrames: number;
  notANumber: number;
}

/** From the analysis Worker back to the source: buffers to be filled again. */
export interface RecycleMessage {
  type: 'recycle';
  channels: Float32Array<ArrayBuffer>[];
}

/** From the page to the analysis Worker. */
export type AnalysisCommand =
  | {
      type: 'attach';
      sampleRateHz: number;
      channelCount: number;
      band: Band;
      warmUpSeconds: number;
      port: MessagePort;
    }
  | { type: 'configure'; band?: Band; expectedHz?: number | null; standingDoubts?: Doubt[] }
  | { type: 'reset' }
  /** Keeps the next so many frames whole, of blocks that begin at `fromFrame` or later; one at a time, a newer one takes its place. */
  | { type: 'take'; id: number; frames: number; fromFrame: number }
  | { type: 'drop-take' }
  /** Sends every block from now on through `port` as well, until told to end. */
  | { type: 'record'; port: MessagePort }
  | { type: 'end-record' }
  | { type: 'detach' };

/** From the analysis Worker to the page. */
export type AnalysisReport =
  /** Readings before this one still belong to the source before. */
  | { type: 'attached' }
  | { type: 'reading'; reading: LiveReading }
  | { type: 'take'; id: number; take: Take }
  /** The source was closed, or a newer take asked for, before this one was whole. */
  | { type: 'take-lost'; id: number; sentence: string }
  | { type: 'failed'; sentence: string };

/** A stretch of samples kept whole. */
export interface Take {
  sampleRateHz: number;
  startFrame: number;
  channels: Float32Array<ArrayBuffer>[];
  doubts: Doubt[];
}
