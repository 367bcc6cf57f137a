import type { RunPart } from '../manifest.ts';

/** A part of which nobody has said yet when it plays. `Omit` would merge the kinds into one; this keeps them apart. */
export type Unplaced = RunPart extends infer P
  ? P extends { startSeconds: number }
    ? Omit<P, 'startSeconds'>
    : never
  : never;

/** A part at full power, and the channels whose coils it drives. */
export interface LoudPart {
  part: Unplaced;
  drives: readonly string[];
}
