/** What the job asks for, and where each of it stands. */
import type { Job } from '../document.ts';
import type { Checkpoint, ProgressMark } from '../progress/checkpoint.ts';
import { jobProgress } from '../progress/job-progress.ts';
import { moment } from './figures.ts';
import { markCell } from './marks.ts';
import type { Report, ReportSection } from './model.ts';
import { tableOf } from './parts.ts';

function counted(progress: readonly Checkpoint[], mark: ProgressMark): number {
  return progress.filter((point) => point.mark === mark).length;
}

function countWords(progress: readonly Checkpoint[]): string {
  const open = [
    ['out-of-tolerance', 'out of tolerance'],
    ['stale', 'stale'],
    ['not-done', 'not done'],
  ] as const;
  return open
    .map(([mark, words]) => [counted(progress, mark), words] as const)
    .filter(([count]) => count > 0)
    .map(([count, words]) => `${count} ${words}`)
    .join(', ');
}

/** The worst of it in a word, and how much of it in a sentence. */
export function verdictOf(job: Job): Report['verdict'] {
  const progress = jobProgress(job);
  const total = progress.length;
  const done = counted(progress, 'done');
  const open = countWords(progress);
  const sentence =
    open === ''
      ? `All ${total} checks that this job asks for are inside its tolerances.`
      : `Of ${total} checks that this job asks for, ${done} ${done === 1 ? 'is' : 'are'} inside its tolerances; ${open}.`;
  if (counted(progress, 'out-of-tolerance') > 0) {
    return { mark: 'out-of-tolerance', text: 'Out of tolerance', sentence };
  }
  if (done === total) return { mark: 'done', text: 'Inside tolerance', sentence };
  return { mark: 'not-done', text: 'Not complete', sentence };
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function standingSection(job: Job): ReportSection {
  const rows = jobProgress(job).map(({ title, mark, why, record }) => [
    capital(title),
    markCell(mark),
    record === null ? '' : moment(record.at),
    why ?? '',
  ]);
  return {
    id: 'standing',
    heading: 'What was checked',
    blocks: tableOf('Everything this job asks for', ['Check', 'State', '@Measured', 'Why'], rows),
  };
}
