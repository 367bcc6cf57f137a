import type { JobRecord, RecordKind } from '../records.ts';

/** How far one thing has come. */
export type ProgressMark = 'not-done' | 'done' | 'stale' | 'out-of-tolerance';

export type ProgressStation = 'input' | 'source' | 'gain' | 'crossover' | 'balance' | 'quiet' | 'sign-off';

/** One thing that a job asks for, and where it stands. */
export interface Checkpoint {
  station: ProgressStation;
  kind: RecordKind;
  /** Channel or amplifier that it is about; `null` where it is about the whole vehicle. */
  subjectId: string | null;
  /** For the person at the screen: "gain of the front left door". */
  title: string;
  mark: ProgressMark;
  /** Why it is stale or out of tolerance, one sentence; else `null`. */
  why: string | null;
  /** The record it stands on, the newest; `null` while there is none. */
  record: JobRecord | null;
}
