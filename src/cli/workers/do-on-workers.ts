import { doInOrder } from './in-order.ts';
import { WorkerHand } from './worker-hand.ts';

/**
 * `doInOrder` with so many workers, hired for it and dismissed after.
 *
 * @param file that `vite.cli.config.ts` writes beside the command line
 * @param onDone told now and then how much more is done
 * @throws UsageError for the first task whose file cannot be used
 */
export async function doOnWorkers<Task, Result>(
  file: string,
  tasks: readonly Task[],
  workers: number,
  onDone: (amount: number) => void,
): Promise<Result[]> {
  const hands = Array.from({ length: workers }, () => new WorkerHand<Task, Result>(file, onDone));
  try {
    return await doInOrder(tasks, hands);
  } finally {
    await Promise.all(hands.map((hand) => hand.dismiss()));
  }
}
