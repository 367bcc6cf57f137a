import type { Job } from '../document.ts';
import type { JobRecord } from '../records.ts';

/** What a record was judged by, and what the job accepts today; `null` where nothing of the job's bounds it. */
function bounds(job: Job, record: JobRecord): [then: number, now: number] | null {
  const { tolerances } = job;
  switch (record.kind) {
    case 'crossover':
      return [record.result.tolerancePercent, tolerances.cornerPercent];
    case 'level':
      return [record.result.toleranceDb, tolerances.balanceDb];
    case 'arrival':
      return [record.result.toleranceMs, tolerances.arrivalMs];
    case 'supply':
      return [record.result.groundVolts, tolerances.groundVolts];
    default:
      return null;
  }
}

/** Why a verdict no longer speaks for the job: it was judged by another bound. One sentence, or `null`. */
export function otherTolerance(job: Job, record: JobRecord): string | null {
  const found = bounds(job, record);
  if (found === null || found[0] === found[1]) return null;
  return `It was judged by a tolerance of ${found[0]}, and the job asks for ${found[1]} now.`;
}
