import type { ReadingFor, TakeRequest } from './take/read-take.ts';

/**
 * A recording that was read. `purpose` is the station's own word for what it
 * was taken for (a volume step, a channel), plain data.
 */
export interface TakeEvent<P, R extends TakeRequest = TakeRequest> {
  type: 'take';
  purpose: P;
  request: R;
  reading: ReadingFor<R>;
}

/** What every station's state tells the screen. */
export interface StationState {
  /** What to do with the hands now, one sentence. */
  instruction: string;
  /** What was found wrong, and by which evidence; empty while nothing was. */
  findings: Finding[];
  acceptance: { can: boolean; why: string | null; needsSecondThought: boolean };
}

/** A fault by its name. */
export interface Finding {
  /** Kebab-case word, stable. */
  fault: string;
  /** What is wrong, one sentence. */
  sentence: string;
  /** The figures that say so, one sentence. */
  evidence: string;
  /** What to do about it, one sentence. */
  remedy: string;
}

/**
 * One guided measurement, as a pure fold: no clock, no device, no screen. Its
 * result becomes the record of the kind that it is named after.
 *
 * @template T what is to be done (from the job's plan)
 * @template E what the hand does, beside takes
 */
export interface Procedure<T, E, S extends StationState, R> {
  /** @throws RangeError for a task that cannot be carried out */
  start(task: T): S;
  /** The state given is left as it was. @throws RangeError for an event that makes no sense */
  step(state: S, event: E): S;
  /** What accepting freezes. @throws Error with the reason where nothing may be accepted yet */
  result(state: S): R;
}
