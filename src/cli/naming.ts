import { readFile } from 'node:fs/promises';
import { WavError } from '../audio/wav/wav-error.ts';
import { JobRefused } from '../job/refused.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/** Runs `work`, turning what it says of a file that cannot be used into one line that names the file. */
export async function naming<T>(path: string, work: () => T | Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const known = error instanceof WavError || error instanceof JobRefused;
    if (known) throw new UsageError(`${path}: ${error.message}`, { cause: error });
    throw error;
  }
}

/** Reads a text file and makes something of it. @throws UsageError where it cannot be read, or `make` refuses it */
export async function fromTextFile<T>(path: string, make: (text: string) => T | Promise<T>): Promise<T> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  return naming(path, () => make(text));
}
