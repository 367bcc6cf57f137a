import { readFile } from 'node:fs/promises';
import type { Job } from '../job/document.ts';
import { readJob } from '../job/read-job.ts';
import { JobRefused } from '../job/refused.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/**
 * Reads a job and makes something of it; what the job refuses in either step
 * is told with the file's name.
 *
 * @throws UsageError when the file cannot be read, or holds no job that can be used
 */
export async function fromJobFile<T>(path: string, make: (job: Job) => T): Promise<T> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  try {
    return make(readJob(text));
  } catch (error) {
    if (error instanceof JobRefused) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}
