import { Worker } from 'node:worker_threads';
import { UsageError } from '../usage-error.ts';
import type { Hand } from './in-order.ts';
import type { WorkerMessage } from './worker-message.ts';

/** A worker that does one task after another. Whoever hires it dismisses it. */
export class WorkerHand<Task, Result> implements Hand<Task, Result> {
  readonly #worker: Worker;
  readonly #onDone: (amount: number) => void;

  /**
   * @param file that `vite.cli.config.ts` writes beside the command line
   * @param onDone told now and then how much more is done
   */
  constructor(file: string, onDone: (amount: number) => void) {
    this.#worker = new Worker(new URL(file, import.meta.url));
    this.#onDone = onDone;
  }

  /** One at a time. @throws UsageError when the file cannot be used, or what ended the worker */
  do(task: Task): Promise<Result> {
    const worker = this.#worker;
    return new Promise((resolve, reject) => {
      const end = () => {
        worker.off('message', hear);
        worker.off('error', fail);
      };
      const fail = (error: unknown) => {
        end();
        reject(error);
      };
      const hear = (message: WorkerMessage<Result>) => {
        if (message.type === 'done-more') {
          this.#onDone(message.amount);
          return;
        }
        end();
        if (message.type === 'done') resolve(message.result);
        else reject(new UsageError(message.sentence));
      };
      worker.on('message', hear);
      worker.on('error', fail);
      worker.postMessage(task);
    });
  }

  async dismiss(): Promise<void> {
    await this.#worker.terminate();
  }
}
