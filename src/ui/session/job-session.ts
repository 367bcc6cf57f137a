/**
 * The job on screen and the store behind it, outside React. Every change is
 * kept at once; an accepted record is on disk before the screen says so.
 */

import type { Job, JobRecord } from '../../job/document.ts';
import { edited, type JobHistory, NO_HISTORY, redone, sealed, undone } from '../../job/history/history.ts';
import { readJob } from '../../job/read-job.ts';
import { JobRefused } from '../../job/refused.ts';
import { JobAltered } from '../../job/sign-off/sealed-file.ts';
import { signJob } from '../../job/sign-off/sign-job.ts';
import type { JobStore } from '../../job/store/job-store.ts';
import { openStore } from '../../job/store/open-store.ts';
import { sha256Hex } from '../../job/store/sha256.ts';
import { sentenceOf } from '../format/sentence-of.ts';
import { observable } from '../live/observable.ts';
import { newId } from './new-id.ts';

export interface JobSession {
  loading: boolean;
  store: JobStore | null;
  job: Job | null;
  /** What undo and redo can reach; of this job and since it was opened. */
  history: JobHistory;
  /** Why something could not be kept or opened, one sentence. */
  trouble: string | null;
  /** The file last taken in, where it was refused because it was altered. */
  altered: JobAltered | null;
}

export const jobSession = observable<JobSession>({
  loading: true,
  store: null,
  job: null,
  history: NO_HISTORY,
  trouble: null,
  altered: null,
});

const LAST_JOB = 'kneepoint-last-job';

function change(part: Partial<JobSession>): void {
  jobSession.set({ ...jobSession.get(), ...part });
}

function show(job: Job): void {
  localStorage.setItem(LAST_JOB, job.id);
  change({ job, history: NO_HISTORY, trouble: null, altered: null });
}

async function firstJob(store: JobStore, demoText: string | null): Promise<Job | null> {
  const { jobs } = store.getSnapshot();
  if (demoText !== null) {
    const demo = readJob(demoText);
    const kept = jobs.some((summary) => summary.id === demo.id && summary.refused === null);
    return kept ? store.openJob(demo.id) : (await store.importJob(demoText)).job;
  }
  const readable = jobs.filter((summary) => summary.refused === null);
  const last = readable.find((summary) => summary.id === localStorage.getItem(LAST_JOB)) ?? readable[0];
  return last === undefined ? null : store.openJob(last.id);
}

/** @param demoText the demo job, to be opened (and first stored) instead of the last one */
export async function beginJobs(demoText: string | null): Promise<void> {
  try {
    const store = await openStore();
    const job = await firstJob(store, demoText);
    change({ loading: false, store });
    if (job !== null) show(job);
  } catch (fault) {
    // Without a store the app still measures; it says that nothing will be kept.
    change({
      loading: false,
      job: demoText === null ? null : readJob(demoText),
      trouble: sentenceOf(fault),
    });
  }
}

/** The job as it is edited, with what only the store adds to: records, sign-offs, and when it was last changed. */
function withKept(now: Job, { records, signOffs, updatedAt }: Job): Job {
  return { ...now, records, signOffs, updatedAt };
}

let saving: Promise<void> = Promise.resolve();

async function save(): Promise<void> {
  const { store, job } = jobSession.get();
  if (store === null || job === null) return;
  try {
    const kept = await store.saveJob(job);
    const now = jobSession.get().job;
    if (now?.id === kept.id) change({ job: withKept(now, kept), trouble: null });
  } catch (fault) {
    if (!(fault instanceof JobRefused)) throw fault;
    change({ trouble: fault.message });
  }
}

function keep(): void {
  saving = saving.then(save).catch((fault: unknown) => change({ trouble: sentenceOf(fault) }));
}

/** Changes the chain or the title. Records are added with `acceptRecord` only. */
export function editJob(edit: (job: Job) => Job): void {
  const { job, history } = jobSession.get();
  if (job === null) return;
  const next = edit(job);
  change({ job: next, history: edited(history, job, next) });
  keep();
}

/** A field was left: what is typed next can be undone by itself. */
export function endTyping(): void {
  const history = sealed(jobSession.get().history);
  if (history !== jobSession.get().history) change({ history });
}

function stepEdit(step: typeof undone, word: string): string | null {
  const { job, history } = jobSession.get();
  if (job === null) return null;
  const stepped = step(history, job);
  if (stepped === null) return null;
  change(stepped);
  keep();
  const crossed = (step === undone ? stepped.history.future : stepped.history.past).at(-1);
  return `${word}: ${crossed?.what ?? ''}`;
}

/** Takes the last edit back. @returns what was undone, or `null` where nothing was */
export function undoEdit(): string | null {
  return stepEdit(undone, 'Undone');
}

/** Brings back what was last undone. @returns what was redone, or `null` where nothing was */
export function redoEdit(): string | null {
  return stepEdit(redone, 'Redone');
}

/** Resolves once the record is on disk. @returns why it could not be kept, or `null` */
export async function acceptRecord(jobId: string, record: JobRecord): Promise<string | null> {
  const { store } = jobSession.get();
  if (store === null) return 'Nothing can be stored in this browser, so the reading was not recorded.';
  await saving;
  try {
    const kept = await store.acceptRecord(jobId, record);
    const now = jobSession.get().job;
    if (now?.id === jobId) change({ job: withKept(now, kept) });
    return null;
  } catch (fault) {
    return `The reading was not recorded: ${sentenceOf(fault)}`;
  }
}

/**
 * Freezes the job as it lies on disk. Resolves once the sign-off is there too.
 *
 * @returns why it could not be signed, or `null`
 */
export async function signOffJob(signedBy: string, note: string): Promise<string | null> {
  const { store, job } = jobSession.get();
  if (store === null || job === null) return 'Nothing can be stored in this browser, so nothing was signed.';
  await saving;
  try {
    const signature = {
      id: newId(),
      at: new Date().toISOString(),
      signedBy: signedBy.trim(),
      note: note.trim(),
    };
    const kept = await store.addSignOff(
      job.id,
      await signJob(await store.openJob(job.id), signature, sha256Hex),
    );
    const now = jobSession.get().job;
    if (now?.id === kept.id) change({ job: withKept(now, kept) });
    return null;
  } catch (fault) {
    return `The job was not signed: ${sentenceOf(fault)}`;
  }
}

/** Runs a change of which job is open; what goes wrong becomes the session's trouble. */
async function opening(work: (store: JobStore) => Promise<Job>): Promise<void> {
  const { store } = jobSession.get();
  if (store === null) return;
  await saving;
  try {
    show(await work(store));
  } catch (fault) {
    if (fault instanceof JobAltered) change({ altered: fault, trouble: null });
    else change({ trouble: sentenceOf(fault) });
  }
}

export function openJob(id: string): Promise<void> {
  return opening((store) => store.openJob(id));
}

export function addJob(job: Job): Promise<void> {
  return opening((store) => store.saveJob(job));
}

export function importJob(text: string): Promise<void> {
  return opening(async (store) => (await store.importJob(text)).job);
}

/** The refusal was read. */
export function forgetAltered(): void {
  change({ altered: null });
}

/** Takes a job away for good, with its records and sign-offs. The last changed of the others opens in its place. */
export async function deleteJob(id: string): Promise<void> {
  const { store } = jobSession.get();
  if (store === null) return;
  await saving;
  try {
    await store.deleteJob(id);
    if (jobSession.get().job?.id !== id) return;
    const next = store.getSnapshot().jobs.find((summary) => summary.refused === null);
    if (next === undefined) change({ job: null, history: NO_HISTORY, trouble: null });
    else show(await store.openJob(next.id));
  } catch (fault) {
    change({ trouble: sentenceOf(fault) });
  }
}
