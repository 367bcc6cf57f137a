/** Holds the engine's state as snapshots: the same object until something in it changes. */
import type { EngineState } from './engine-state.ts';

const INITIAL: EngineState = {
  phase: 'idle',
  source: null,
  granted: null,
  devices: [],
  outputs: [],
  outputId: null,
  trouble: null,
  playing: null,
  capturePath: null,
  gaps: 0,
  jumps: 0,
};

export class EngineStore {
  #state = INITIAL;
  readonly #listeners = new Set<() => void>();

  /** Bound, so that `useSyncExternalStore` may take it as it is. */
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly getState = (): EngineState => this.#state;

  update(change: Partial<EngineState>): void {
    const keys = Object.keys(change) as (keyof EngineState)[];
    if (keys.every((key) => Object.is(this.#state[key], change[key]))) return;
    this.#state = { ...this.#state, ...change };
    for (const listener of [...this.#listeners]) listener();
  }
}
