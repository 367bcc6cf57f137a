import type { Manifest } from '../job/manifest.ts';
import { readManifest } from '../job/read-manifest.ts';
import { fromTextFile } from './naming.ts';

/** @throws UsageError when the file cannot be read or is no manifest that can be used */
export function manifestFile(path: string): Promise<Manifest> {
  return fromTextFile(path, readManifest);
}
