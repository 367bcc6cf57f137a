/**
 * Undo and redo of a job's editing. Pure: a history and a job in, a history
 * and a job out. Records and sign-offs are no part of it: whatever is undone,
 * every one that the job has now it has afterwards.
 */
import type { Job } from '../document.ts';
import { recordedChannelIds } from '../recorded-channels.ts';
import { jobChange } from './job-change.ts';

type Body = Omit<Job, 'records' | 'signOffs' | 'updatedAt'>;

interface Step {
  what: string;
  field: string | null;
  /** The job on the far side of this step. */
  body: Body;
}

export interface JobHistory {
  /** Oldest first; the last is what undo takes back. */
  past: readonly Step[];
  /** The last is what redo brings back. */
  future: readonly Step[];
  /** Whether further typing into the same field still belongs to the last step. */
  open: boolean;
}

export interface Offer {
  /** What would be undone or redone. */
  what: string;
  /** Why it cannot be, one sentence; `null` where it can. */
  refused: string | null;
}

export const NO_HISTORY: JobHistory = { past: [], future: [], open: false };

/** Enough for a day's editing of one job; a step holds some kilobytes. */
const LONGEST = 300;

function bodyOf({ records: _, signOffs: __, updatedAt: ___, ...body }: Job): Body {
  return body;
}

/**
 * The history after an edit. Typing on in one field is one step until the
 * field is left (`sealed`); typing back to where it began is none.
 */
export function edited(history: JobHistory, before: Job, after: Job): JobHistory {
  const change = jobChange(before, after);
  if (change === null) return history;
  const last = history.past.at(-1);
  if (history.open && last !== undefined && change.field !== null && last.field === change.field) {
    const isBack = jobChange({ ...after, ...last.body }, after) === null;
    return { past: isBack ? history.past.slice(0, -1) : history.past, future: [], open: !isBack };
  }
  const past = [...history.past, { ...change, body: bodyOf(before) }].slice(-LONGEST);
  return { past, future: [], open: true };
}

/** The field was left: whatever comes next is a step of its own. */
export function sealed(history: JobHistory): JobHistory {
  return history.open ? { ...history, open: false } : history;
}

function refusal(step: Step, job: Job): string | null {
  const kept = new Set(step.body.channels.map(({ id }) => id));
  const orphan = job.channels.find(({ id }) => recordedChannelIds(job).has(id) && !kept.has(id));
  return orphan === undefined
    ? null
    : `${orphan.name} has a record by now, and a record must not lose its channel.`;
}

function offer(steps: readonly Step[], job: Job): Offer | null {
  const step = steps.at(-1);
  return step === undefined ? null : { what: step.what, refused: refusal(step, job) };
}

/** What undo would take back; `null` where there is nothing. */
export function undoOffer(history: JobHistory, job: Job): Offer | null {
  return offer(history.past, job);
}

/** What redo would bring back; `null` where there is nothing. */
export function redoOffer(history: JobHistory, job: Job): Offer | null {
  return offer(history.future, job);
}

interface Stepped {
  history: JobHistory;
  job: Job;
}

function across(from: readonly Step[], job: Job): { rest: Step[]; crossed: Step; job: Job } | null {
  const step = from.at(-1);
  if (step === undefined || refusal(step, job) !== null) return null;
  return {
    rest: from.slice(0, -1),
    crossed: { what: step.what, field: step.field, body: bodyOf(job) },
    job: { ...step.body, records: job.records, signOffs: job.signOffs, updatedAt: job.updatedAt },
  };
}

/** Takes the last step back; `null` where there is none, or it is refused (see `undoOffer`). */
export function undone({ past, future }: JobHistory, job: Job): Stepped | null {
  const step = across(past, job);
  if (step === null) return null;
  return { history: { past: step.rest, future: [...future, step.crossed], open: false }, job: step.job };
}

/** Brings back what was last undone; `null` where there is nothing, or it is refused. */
export function redone({ past, future }: JobHistory, job: Job): Stepped | null {
  const step = across(future, job);
  if (step === null) return null;
  return { history: { past: [...past, step.crossed], future: step.rest, open: false }, job: step.job };
}
