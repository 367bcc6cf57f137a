/** What the live analyser takes in: one block of samples as a source posted it. */
export interface LiveBlock {
  /** Counts blocks; a missing number is a lost block. */
  sequence: number;
  /** Source's own count of the first frame. */
  startFrame: number;
  /** One array for each channel, all of one length. Read, never kept. */
  channels: readonly Float32Array[];
  facts: {
    emptyQuanta: number;
    missedFrames: number;
    notANumber: number;
  };
}
