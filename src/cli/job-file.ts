import { readFile } from 'node:fs/promises';
import type { Job } from '../job/document.ts';
import { readJob } from '../job/read-job.ts';
import { JobRefused } from '../job/refused.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/** @throws UsageError when the file cannot be read, or holds no job that can be used */
export async function readJobFile(path: string): Promise<Job> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  try {
    return readJob(text);
  } catch (error) {
    if (error instanceof JobRefused) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}
