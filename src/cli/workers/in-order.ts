/** Somebody who does one task after another: this thread, or a worker. */
export interface Hand<Task, Result> {
  do(task: Task): Promise<Result>;
}

/**
 * Several hands take tasks from the front of one queue; the results come in the order of the tasks.
 *
 * After a failure nothing more is begun, and what is under way is waited for. Tasks are begun in order, so
 * every task before the first that failed has been begun too: the failure that is thrown is that of the
 * earliest failing task, whoever was quicker. Later ones would have been the next to be told, had they
 * stood alone.
 */
export async function doInOrder<Task, Result>(
  tasks: readonly Task[],
  hands: readonly Hand<Task, Result>[],
): Promise<Result[]> {
  const results: Result[] = [];
  let next = 0;
  const failures: { at: number; error: unknown }[] = [];
  const work = async (hand: Hand<Task, Result>): Promise<void> => {
    while (next < tasks.length && failures.length === 0) {
      const at = next;
      next += 1;
      try {
        results[at] = await hand.do(tasks[at]!);
      } catch (error) {
        failures.push({ at, error });
      }
    }
  };
  await Promise.all(hands.map(work));
  if (failures.length > 0) throw failures.reduce((a, b) => (b.at < a.at ? b : a)).error;
  return results;
}
