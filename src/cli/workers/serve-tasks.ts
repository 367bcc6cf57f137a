import { parentPort } from 'node:worker_threads';
import { UsageError } from '../usage-error.ts';
import type { WorkerMessage } from './worker-message.ts';

/** Progress is told this often at most: a person reads it, five times a second. */
const TELL_EVERY_MS = 100;

/** In a worker: does what it is sent, one task after another, and tells how it comes along. */
export function serveTasks<Task, Result>(
  work: (task: Task, onDone: (amount: number) => void) => Promise<Result>,
): void {
  const post = (message: WorkerMessage<Result>) => parentPort?.postMessage(message);
  parentPort?.on('message', (task: Task) => {
    let untold = 0;
    let toldAt = performance.now();
    const tell = () => {
      post({ type: 'done-more', amount: untold });
      untold = 0;
      toldAt = performance.now();
    };
    work(task, (amount) => {
      untold += amount;
      if (performance.now() - toldAt >= TELL_EVERY_MS) tell();
    }).then(
      (result) => {
        tell();
        post({ type: 'done', result });
      },
      (error: unknown) => {
        // Anything else is a fault of the program: left uncaught, it ends this worker and is reported as one.
        if (!(error instanceof UsageError)) throw error;
        post({ type: 'unusable', sentence: error.message });
      },
    );
  });
}
