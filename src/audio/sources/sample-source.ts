import type { Trouble } from '../engine/engine-state.ts';

/** What a source tells of its own accord. */
export interface SourceEvents {
  /** The last sample was posted: a file came to its end. */
  onEnded(): void;
  /** No more samples will come. */
  onTrouble(trouble: Trouble): void;
}

/**
 * Anything that makes samples: sound card, WAV file, practice rig. The engine
 * hands it one end of a channel; the analysis Worker holds the other.
 */
export interface SampleSource {
  /** Known once `start` has resolved, not before. */
  readonly sampleRateHz: number;
  readonly channelCount: number;
  /**
   * Begins to post `BlockMessage`s through `port` and takes `RecycleMessage`s
   * from it. Rejects with a `TroubleError` when no samples can be had.
   */
  start(port: MessagePort): Promise<void>;
  /** Called once, before `start`, by an owner who wants to hear of an end. A source without one leaves it out. */
  listen?(events: SourceEvents): void;
  /**
   * Stands still until `release`, at the frame from which everything holds that was asked of the source before.
   * One whose sound is not made by this program leaves both out: nothing of it can be told to the frame.
   */
  hold?(): Promise<number>;
  release?(): void;
  /** Stops posting; the frame counter stands still until `resume`. */
  pause(): void;
  resume(): void;
  /** Gives everything back (track, Worker, file). Further calls do nothing. */
  stop(): void;
}
