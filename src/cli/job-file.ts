import type { Job } from '../job/document.ts';
import { readJob } from '../job/read-job.ts';
import { fromTextFile } from './naming.ts';

/**
 * Reads a job and makes something of it; what the job refuses in either step
 * is told with the file's name.
 *
 * @throws UsageError when the file cannot be read, or holds no job that can be used
 */
export function fromJobFile<T>(path: string, make: (job: Job) => T): Promise<T> {
  return fromTextFile(path, (text) => make(readJob(text)));
}
