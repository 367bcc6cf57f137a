/**
 * One station's fold, outside React: its state while the page lives, the log
 * of what was done, and the takes that it was done with.
 */
import { useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { Conditions } from '../../job/document.ts';
import { keptResult } from '../../job/kept-record.ts';
import type { JobRecord, RecordKind } from '../../job/records.ts';
import type { SessionEntry } from '../../job/session-log.ts';
import type { Procedure, StationState } from '../../procedure/procedure.ts';
import type { TakeReading, TakeRequest } from '../../procedure/take/read-take.ts';
import type { Take } from '../../procedure/take/take.ts';
import { requestPaint } from '../live/paint.ts';
import { clockSeconds } from '../signal/signal.ts';
import { readTakeAside } from '../takes/take-reader.ts';
import { acceptRecord } from './job-session.ts';
import { newId } from './new-id.ts';

/** What keeps the station busy. */
export type Busy = { what: 'recording'; seconds: number; sinceMs: number } | { what: 'reading' } | null;

/** One task's course: what a replay needs. */
export interface Course<S> {
  state: S;
  entries: SessionEntry[];
  takes: Take[];
}

/** A record kept, or the sentence why it was not. */
export type Kept = { fault: null; record: JobRecord } | { fault: string; record: null };

/** Another station that asks the same of a recording, and so folds it as well. */
export interface Follower {
  follow(purpose: unknown, request: TakeRequest, reading: TakeReading, take: Take): void;
}

export class StationSession<T, E extends { type: string }, S extends StationState, R> {
  readonly kind: RecordKind;
  readonly #procedure: Procedure<T, E, S, R>;
  readonly #courses = new Map<string, Course<S>>();
  readonly #listeners = new Set<() => void>();
  #current: string | null = null;
  #busy: Busy = null;
  #fault: string | null = null;

  constructor(kind: RecordKind, procedure: Procedure<T, E, S, R>) {
    this.kind = kind;
    this.#procedure = procedure;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly state = (): S | null => this.course()?.state ?? null;
  readonly busy = (): Busy => this.#busy;
  /** Why the last take came to nothing, one sentence. */
  readonly fault = (): string | null => this.#fault;

  course(): Course<S> | null {
    return this.#current === null ? null : (this.#courses.get(this.#current) ?? null);
  }

  /** Opens a task; the same task goes on where it was left, another begins anew. */
  open(task: T): void {
    const key = JSON.stringify(task);
    if (!this.#courses.has(key)) this.#begin(key, task);
    this.#current = key;
    this.#publish();
  }

  /** Forgets what was measured (records stay) and begins the task anew. */
  restart(task: T): void {
    const key = JSON.stringify(task);
    this.#begin(key, task);
    this.#current = key;
    this.#publish();
  }

  /** Forgets everything that was measured, of every task (records stay): it was another vehicle. */
  forget(): void {
    const key = this.#current;
    this.#courses.clear();
    if (key !== null) this.#begin(key, JSON.parse(key) as T);
    this.#publish();
  }

  /** Whether the last thing done was to accept what was measured. */
  readonly isAccepted = (): boolean => this.course()?.entries.at(-1)?.type === 'accept';

  /** Readings go nowhere until a task is opened; a take under way is given up. */
  close(): void {
    if (this.#busy?.what === 'recording') soundEngine.dropTake();
    this.#current = null;
    this.#publish();
  }

  hand(event: Exclude<E, { type: 'take' }>): void {
    const course = this.course();
    if (course === null) return;
    course.state = this.#procedure.step(course.state, event);
    course.entries.push({ type: 'hand', event: event as never });
    this.#publish();
  }

  /**
   * Records for so long, reads what was played, and folds it.
   *
   * @param purpose the station's own word for it, as its fold expects
   * @param followers stations that fold the same recording
   * @returns false where it came to nothing; `fault` says why
   */
  async take(
    purpose: unknown,
    request: TakeRequest,
    seconds: number,
    followers: readonly Follower[] = [],
  ): Promise<boolean> {
    const course = this.course();
    if (course === null || this.#busy !== null) return false;
    this.#fault = null;
    try {
      this.#setBusy({ what: 'recording', seconds: clockSeconds(seconds), sinceMs: performance.now() });
      const take = await soundEngine.take(seconds);
      this.#setBusy({ what: 'reading' });
      const reading = await readTakeAside(request, take);
      this.#fold(course, purpose, request, reading, take);
      for (const follower of followers) follower.follow(purpose, request, reading, take);
      return true;
    } catch (error) {
      this.#fault = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      this.#setBusy(null);
    }
  }

  /** Folds what another station recorded, if a task is open. */
  follow(purpose: unknown, request: TakeRequest, reading: TakeReading, take: Take): void {
    const course = this.course();
    if (course !== null) this.#fold(course, purpose, request, reading, take);
  }

  /** What accepting now would freeze. @throws Error with the reason where nothing may be accepted */
  result(): R {
    const course = this.course();
    if (course === null) throw new Error('No task is open at this station.');
    return this.#procedure.result(course.state);
  }

  /** Freezes the present state as a record; resolves once it is on disk. */
  async accept(jobId: string, conditions: Conditions): Promise<Kept> {
    const course = this.course();
    if (course === null) return { fault: 'No task is open at this station.', record: null };
    const { acceptance } = course.state;
    if (!acceptance.can) return { fault: acceptance.why ?? 'There is nothing to accept yet.', record: null };
    const id = newId();
    const at = new Date().toISOString();
    // What is done while it is written to disk comes after it in the log, as it does in the record.
    const place = course.entries.length;
    const result = this.#procedure.result(course.state);
    const record = {
      kind: this.kind,
      id,
      at,
      conditions,
      result: keptResult(result),
    } as unknown as JobRecord;
    const fault = await acceptRecord(jobId, record);
    if (fault !== null) return { fault, record: null };
    course.entries.splice(place, 0, { type: 'accept', id, at, conditions });
    this.#publish();
    return { fault: null, record };
  }

  #begin(key: string, task: T): void {
    const state = this.#procedure.start(task);
    this.#courses.set(key, { state, entries: [{ type: 'start', task: task as never }], takes: [] });
    this.#fault = null;
  }

  #fold(course: Course<S>, purpose: unknown, request: TakeRequest, reading: TakeReading, take: Take): void {
    const event = { type: 'take', purpose, request, reading } as unknown as E;
    course.state = this.#procedure.step(course.state, event);
    const frames = take.channels[0]?.length ?? 0;
    course.entries.push({
      type: 'take',
      purpose: purpose as never,
      request: request as never,
      startFrame: take.startFrame,
      frames,
      atFrame: course.takes.reduce((sum, one) => sum + (one.channels[0]?.length ?? 0), 0),
      doubts: [...take.doubts],
    });
    course.takes.push(take);
    this.#publish();
  }

  #setBusy(busy: Busy): void {
    this.#busy = busy;
    this.#publish();
  }

  #publish(): void {
    for (const listener of this.#listeners) listener();
    requestPaint();
  }
}

/** The running state of a station, redrawn at each of its events. */
export function useStation<S extends StationState>(session: {
  subscribe(listener: () => void): () => void;
  state(): S | null;
}): S | null {
  return useSyncExternalStore(session.subscribe, session.state);
}
