import { Worker } from 'node:worker_threads';
import type { ChannelReading } from '../../dsp/reading.ts';
import { UsageError } from '../usage-error.ts';
import type { Hand } from './in-order.ts';
import type { MeasureTask } from './measure-task.ts';
import type { WorkerMessage } from './worker-message.ts';

/** File that `vite.cli.config.ts` writes beside the command line. */
const WORKER_FILE = 'measure-worker.js';

/** A worker that measures. Whoever hires it dismisses it. */
export class WorkerHand implements Hand<MeasureTask, ChannelReading[]> {
  readonly #worker: Worker;
  readonly #onSamples: (samples: number) => void;

  /** @param onSamples told now and then how many more samples are done */
  constructor(onSamples: (samples: number) => void) {
    this.#worker = new Worker(new URL(WORKER_FILE, import.meta.url));
    this.#onSamples = onSamples;
  }

  /** One at a time. @throws UsageError when the file cannot be used, or what ended the worker */
  do(task: MeasureTask): Promise<ChannelReading[]> {
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
      const hear = (message: WorkerMessage) => {
        if (message.type === 'samples') {
          this.#onSamples(message.samples);
          return;
        }
        end();
        if (message.type === 'done') resolve(message.readings);
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
