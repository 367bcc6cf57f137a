import type { Job, JobRecord } from './document.ts';
import { JobRefused } from './refused.ts';

/**
 * The job with one more record at its end; the job given is left as it was, and so is every record in it.
 *
 * @throws JobRefused where a record of this id is there already: records are added to, never replaced.
 */
export function appendRecord(job: Job, record: JobRecord): Job {
  if (job.records.some((one) => one.id === record.id)) {
    throw new JobRefused(
      `This job already holds a record "${record.id}"; a new reading needs an id of its own, as records are never replaced.`,
    );
  }
  const isLater = Date.parse(record.at) > Date.parse(job.updatedAt);
  return { ...job, updatedAt: isLater ? record.at : job.updatedAt, records: [...job.records, record] };
}
