import { availableParallelism } from 'node:os';
import type { CheckReport } from '../../procedure/check/check.ts';
import { Progress } from '../progress.ts';
import { doOnWorkers } from '../workers/do-on-workers.ts';
import { doInOrder } from '../workers/in-order.ts';
import { type CheckFileTask, checkFile, PARTS_PER_FILE } from './check-file.ts';

/** File that `vite.cli.config.ts` writes beside the command line. */
const WORKER_FILE = 'check-worker.js';

/**
 * Checks every recording, several on as many workers as there are cores, with one progress bar for all. The reports
 * stand in the order of the files.
 *
 * @throws UsageError for the first file that turns out to be unusable
 */
export async function checkFiles(tasks: readonly CheckFileTask[]): Promise<CheckReport[]> {
  const progress = new Progress('checking', tasks.length * PARTS_PER_FILE);
  const onDone = (parts: number) => progress.add(parts);
  const workers = Math.min(availableParallelism(), tasks.length);
  try {
    return workers < 2
      ? await doInOrder(tasks, [{ do: (task) => checkFile(task, onDone) }])
      : await doOnWorkers(WORKER_FILE, tasks, workers, onDone);
  } finally {
    progress.end();
  }
}
