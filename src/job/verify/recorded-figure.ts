import type { ProgressStation } from '../progress/checkpoint.ts';
import type { RecordKind } from '../records.ts';

/** Something that must have been alike for two readings to be comparable. */
export interface Circumstance {
  /** "the volume step", for the middle of a sentence. */
  what: string;
  /** `null` where nobody noted it. */
  value: number | string | boolean | null;
  unit: string;
  /** How far two numbers may lie apart and count as alike. */
  within: number;
}

/** One figure of a record, so that two visits can be held against each other. */
export interface RecordedFigure {
  /** The same for the same thing at any visit: `gain/front-left/volts`. */
  key: string;
  station: ProgressStation;
  /** "gain of the front left door". */
  title: string;
  recordId: string;
  kind: RecordKind;
  at: string;
  /** A word where it is no number; `null` where the reading could not tell. */
  value: number | string | null;
  /** Empty for a word. */
  unit: string;
  /** Standard uncertainty (k = 1) in the same unit; `null` where none is known, and for words. */
  uncertainty: number | null;
  circumstances: readonly Circumstance[];
}
