import { useSyncExternalStore } from 'react';

/** A value that the screen watches, kept outside React. */
export interface Observable<T> {
  get(): T;
  set(next: T): void;
  subscribe(listener: () => void): () => void;
}

export function observable<T>(initial: T): Observable<T> {
  let value = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    set(next) {
      if (Object.is(next, value)) return;
      value = next;
      for (const listener of listeners) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

export function useObservable<T>(source: Observable<T>): T {
  return useSyncExternalStore(source.subscribe, source.get);
}
