// Installs what the lock file asks for, and only when something is missing.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Runs npm itself; `npm` is a shell script on Windows, hence the shell there. */
function npm(args) {
  return spawnSync('npm', args, { cwd: root, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
}

/** Every package of the lock file stands in node_modules at the locked version (platform-bound ones may be absent). */
export function isInstalled() {
  const lockFile = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(lockFile)) return false;
  const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  const found = JSON.parse(readFileSync(lockFile, 'utf8')).packages;
  return Object.entries(wanted).every(([path, entry]) => {
    if (path === '' || entry.link) return true;
    if (found[path] === undefined) return entry.optional === true;
    return found[path].version === entry.version;
  });
}

/** Leaves with status 1 and npm's own words if the installation fails. */
export function ensureInstalled() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Kneepoint needs Node.js 20.19 or later; this is ${process.versions.node}.`);
    process.exit(1);
  }
  if (isInstalled()) return;
  console.error('Installing dependencies (npm ci) …');
  const { status } = npm(['ci', '--include=dev']);
  if (status !== 0) {
    console.error('npm ci failed: see its messages above; a reachable npm registry is needed once.');
    process.exit(1);
  }
}
