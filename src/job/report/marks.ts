import type { Job } from '../document.ts';
import type { ProgressMark } from '../progress/checkpoint.ts';
import { recordStanding } from '../progress/job-progress.ts';
import type { JobRecord } from '../records.ts';
import type { MarkedCell } from './model.ts';

const MARK_WORDS: Record<ProgressMark, string> = {
  done: 'inside',
  'out-of-tolerance': 'out of tolerance',
  stale: 'stale',
  'not-done': 'not done',
};

export function markCell(mark: ProgressMark): MarkedCell {
  return { text: MARK_WORDS[mark], mark };
}

/** Where a record stands today, with the job as it is. */
export function standingCell(job: Job, record: JobRecord): MarkedCell {
  return markCell(recordStanding(job, record).mark);
}

/** One judgement inside a record; `null` was not or could not be judged. */
export function insideCell(inside: boolean | null): MarkedCell {
  if (inside === null) return { text: 'not judged', mark: 'not-done' };
  return markCell(inside ? 'done' : 'out-of-tolerance');
}
