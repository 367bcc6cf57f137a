import { useEffect, useMemo } from 'react';

interface Opening<T> {
  open(task: T): void;
  close(): void;
}

/**
 * Opens a task at its session for as long as the part is on screen; another task begins anew, the same one goes
 * on where it was left.
 *
 * @param make throws RangeError with one sentence where the job lacks something
 * @returns that sentence, or `null`
 */
export function useTask<T>(session: Opening<T>, make: () => T): string | null {
  const made = attempt(make);
  const key = JSON.stringify(made);
  // The same task made anew by a redraw is the same task.
  // biome-ignore lint/correctness/useExhaustiveDependencies: `key` is all of `made`.
  const kept = useMemo(() => made, [key]);
  useEffect(() => {
    if ('task' in kept) session.open(kept.task);
    else session.close();
    return () => session.close();
  }, [session, kept]);
  return 'task' in kept ? null : kept.refusal;
}

function attempt<T>(make: () => T): { task: T } | { refusal: string } {
  try {
    return { task: make() };
  } catch (fault) {
    if (!(fault instanceof RangeError)) throw fault;
    return { refusal: fault.message };
  }
}
