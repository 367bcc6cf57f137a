/** Runs a command to its end and says how long it took and how much memory it held. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';

export interface Ended {
  /** From start to exit, the program's own start included. */
  seconds: number;
  /** Highest resident set of the process, MB; `null` where the system does not tell. */
  peakMegabytes: number | null;
}

/** How often the resident set is looked at; the kernel keeps the highest by itself. */
const LOOK_EVERY_MS = 20;

/** @throws when the command does not exit with status 0 */
export async function wholeCommand(command: string, args: readonly string[]): Promise<Ended> {
  const started = performance.now();
  const child = spawn(command, args, { stdio: ['ignore', 'ignore', 'ignore'] });
  let peakMegabytes: number | null = null;
  const watch = setInterval(() => {
    peakMegabytes = highWaterMark(child) ?? peakMegabytes;
  }, LOOK_EVERY_MS);
  const [status] = await once(child, 'exit');
  const seconds = (performance.now() - started) / 1000;
  clearInterval(watch);
  if (status !== 0) throw new Error(`${command} ${args.join(' ')} ended with status ${status}.`);
  return { seconds, peakMegabytes };
}

/** VmHWM of Linux: the highest resident set so far, so that looking late or seldom misses little. */
function highWaterMark(child: ChildProcess): number | null {
  if (process.platform !== 'linux') return null;
  try {
    const line = /^VmHWM:\s*(\d+) kB$/m.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'));
    return line === null ? null : Number(line[1]) / 1024;
  } catch (error) {
    // The process may end between two looks.
    if (error instanceof Error && 'code' in error && (error.code === 'ENOENT' || error.code === 'ESRCH'))
      return null;
    throw error;
  }
}
