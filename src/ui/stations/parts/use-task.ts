import { useEffect, useMemo } from 'react';
import { JobRefused } from '../../../job/refused.ts';

interface Opening<T> {
  open(task: T): void;
  close(): void;
}

/**
 * Keeps a task open at its session while the part is on screen. The same task goes on where it was left.
 *
 * @param make throws one sentence where the job lacks something
 * @returns that sentence, or `null`
 */
export function useTask<T>(session: Opening<T>, make: () => T): string | null {
  const made = attempt(make);
  const key = JSON.stringify(made);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `key` is all of `made`; a redraw's copy is the same task.
  const kept = useMemo(() => made, [key]);
  useEffect(() => {
    if ('task' in kept) session.open(kept.task);
    return () => session.close();
  }, [session, kept]);
  return 'task' in kept ? null : kept.refusal;
}

function attempt<T>(make: () => T): { task: T } | { refusal: string } {
  try {
    return { task: make() };
  } catch (fault) {
    if (fault instanceof RangeError || fault instanceof JobRefused) return { refusal: fault.message };
    throw fault;
  }
}
