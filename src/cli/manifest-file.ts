import { readFile } from 'node:fs/promises';
import type { Manifest } from '../job/manifest.ts';
import { readManifest } from '../job/read-manifest.ts';
import { JobRefused } from '../job/refused.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/** @throws UsageError when the file cannot be read or is no manifest that can be used */
export async function manifestFile(path: string): Promise<Manifest> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  try {
    return readManifest(text);
  } catch (error) {
    if (error instanceof JobRefused) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}
