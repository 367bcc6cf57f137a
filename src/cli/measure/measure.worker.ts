/** Measures tasks one after another in a thread of its own. Bundled beside the command line. */
import { parentPort } from 'node:worker_threads';
import { UsageError } from '../usage-error.ts';
import { type MeasureTask, measureTask } from './measure-task.ts';
import type { WorkerMessage } from './worker-message.ts';

/** Progress is told this often at most: a person reads it, five times a second. */
const TELL_EVERY_MS = 100;

function post(message: WorkerMessage): void {
  parentPort?.postMessage(message);
}

async function measure(task: MeasureTask): Promise<void> {
  let untold = 0;
  let toldAt = performance.now();
  const tell = () => {
    post({ type: 'samples', samples: untold });
    untold = 0;
    toldAt = performance.now();
  };
  const readings = await measureTask(task, (samples) => {
    untold += samples;
    if (performance.now() - toldAt >= TELL_EVERY_MS) tell();
  });
  tell();
  post({ type: 'done', readings });
}

parentPort?.on('message', (task: MeasureTask) => {
  measure(task).catch((error: unknown) => {
    // Anything else is a fault of the program: left uncaught, it ends this worker and is reported as one.
    if (!(error instanceof UsageError)) throw error;
    post({ type: 'unusable', sentence: error.message });
  });
});
