import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A folder of the test file's own, gone when it ends; returns the path of a file in it. */
export function scratchFolder(): (name: string) => string {
  const folder = mkdtempSync(join(tmpdir(), 'kneepoint-reference-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return (name) => join(folder, name);
}
