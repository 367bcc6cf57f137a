/**
 * The check under way: which file, with which track, and what came out of it. Outside React, so that whoever leaves
 * the part for a moment finds it as it was; a file chosen meanwhile never gets another one's result.
 */
import type { Job } from '../../../../job/document.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import type { CheckReport } from '../../../../procedure/check/check.ts';
import { checkFile } from '../../../check/check-file.ts';
import { sentenceOf } from '../../../format/sentence-of.ts';
import { observable } from '../../../live/observable.ts';
import type { ChosenTrack } from './TrackChoice.tsx';

/** A WAV to check, and what is known of it. */
export interface CheckedFile {
  /** Two files may bear one name. */
  id: string;
  name: string;
  file: Blob;
  /** What it was recorded with; `null` where this is not known. */
  input: string | null;
  channelCount: number;
  at: readonly string[];
  voltsPerFs: number | null;
}

/** What was checked, and as what. */
export interface Checked {
  report: CheckReport;
  run: RunTrack;
  at: readonly string[];
  voltsPerFs: number | null;
}

export interface CheckWork {
  jobId: string | null;
  /** Another tone set's track; `null` for the job's own. */
  track: ChosenTrack | null;
  chosen: CheckedFile | null;
  /** How far the check has come, 0 to 1; `null` where none runs. */
  share: number | null;
  checked: Checked | null;
  isKept: boolean;
  /** Why a file could not be taken or checked, one sentence. */
  fault: string | null;
}

const NO_FILE = { chosen: null, share: null, checked: null, isKept: false, fault: null };
export const NO_WORK: CheckWork = { jobId: null, track: null, ...NO_FILE };

export const checkWork = observable<CheckWork>(NO_WORK);

/** Counts what was begun, so that what ends late is known to be late. */
let begun = 0;

function change(part: Partial<CheckWork>): void {
  checkWork.set({ ...checkWork.get(), ...part });
}

/** Another job's file and result are not this one's. */
export function openWork(jobId: string): void {
  if (checkWork.get().jobId === jobId) return;
  begun += 1;
  checkWork.set({ ...NO_WORK, jobId });
}

export function chooseTrack(track: ChosenTrack | null): void {
  begun += 1;
  change({ track, share: null, checked: null, isKept: false, fault: null });
}

/** @param name for the sentence where it cannot be taken */
export function chooseFile(name: string, opening: Promise<CheckedFile>): void {
  begun += 1;
  const mine = begun;
  change(NO_FILE);
  opening.then(
    (chosen) => {
      if (mine === begun) change({ chosen });
    },
    (fault: unknown) => {
      if (mine === begun) change({ fault: `${name}: ${sentenceOf(fault)}` });
    },
  );
}

/** The file is done with, or was the wrong one. */
export function putAway(): void {
  begun += 1;
  change(NO_FILE);
}

export function startCheck(
  job: Job,
  run: RunTrack,
  { at, voltsPerFs }: Pick<Checked, 'at' | 'voltsPerFs'>,
): void {
  const { chosen, share } = checkWork.get();
  if (chosen === null || share !== null) return;
  begun += 1;
  const mine = begun;
  // Where it was taken is known of the file from now on, whatever comes of the check.
  change({ chosen: { ...chosen, at, voltsPerFs }, share: 0, fault: null });
  const tell = (part: Partial<CheckWork>) => {
    if (mine === begun) change(part);
  };
  checkFile(chosen.file, { run, job, at, voltsPerFs }, (next) => tell({ share: next })).then(
    (report) => tell({ share: null, checked: { report, run, at, voltsPerFs } }),
    (fault: unknown) => tell({ share: null, fault: sentenceOf(fault) }),
  );
}

export function workKept(): void {
  change({ isKept: true });
}
