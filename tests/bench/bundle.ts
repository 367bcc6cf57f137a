/** Size of what a browser fetches, as built, and as sent when compressed. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile());
}

export async function run(root: string): Promise<{ name: string; figures: Record<string, number> }> {
  const files = filesUnder(join(root, 'dist', 'app'));
  const kilobytes = (paths: string[], size: (bytes: Buffer) => number) =>
    paths.reduce((sum, path) => sum + size(readFileSync(path)), 0) / 1000;
  const scripts = files.filter((path) => path.endsWith('.js'));
  return {
    name: 'bundle, as built',
    figures: {
      'all files, kB': kilobytes(files, (bytes) => bytes.length),
      'scripts, kB': kilobytes(scripts, (bytes) => bytes.length),
      'scripts, gzip kB': kilobytes(scripts, (bytes) => gzipSync(bytes).length),
    },
  };
}
