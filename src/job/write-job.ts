import { type Job, jobDocument } from './document.ts';
import { firstFault } from './first-fault.ts';
import { JobRefused } from './refused.ts';

/**
 * A job as a file's text: keys in the schema's order, two spaces, a newline at the end, so that the same job
 * always gives the same bytes and two versions of a job can be compared line by line.
 *
 * @throws JobRefused where the job is not valid (a NaN, for one, which JSON would turn into null unnoticed).
 */
export function writeJob(job: Job): string {
  const parsed = jobDocument.safeParse(job);
  if (!parsed.success) throw new JobRefused(`This job cannot be written: ${firstFault(job, parsed.error)}.`);
  return `${JSON.stringify(parsed.data, null, 2)}\n`;
}
