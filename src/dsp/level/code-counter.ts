import { NEAR_FULL_SCALE } from '../clipping/codes.ts';
import type { CodeFacts } from '../clipping/harmonic-view.ts';

/** Counts how the converter's extreme codes were used, sample by sample, over any number of blocks. */
export class CodeCounter {
  readonly #facts: CodeFacts = emptyFacts();
  #runHigh = 0;
  #runLow = 0;

  reset(): void {
    Object.assign(this.#facts, emptyFacts());
    this.#runHigh = 0;
    this.#runLow = 0;
  }

  /** Blocks follow each other: a run may cross from one into the next. */
  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const facts = this.#facts;
    const near = 1 - NEAR_FULL_SCALE;
    for (let n = from; n < to; n += 1) {
      const x = samples[n]!;
      if (x > facts.highest) facts.highest = x;
      if (x < facts.lowest) facts.lowest = x;
      if (x >= near) {
        facts.framesHigh += 1;
        this.#runHigh += 1;
        if (this.#runHigh > facts.longestRunHigh) facts.longestRunHigh = this.#runHigh;
      } else {
        this.#runHigh = 0;
      }
      if (x <= -near) {
        facts.framesLow += 1;
        this.#runLow += 1;
        if (this.#runLow > facts.longestRunLow) facts.longestRunLow = this.#runLow;
      } else {
        this.#runLow = 0;
      }
    }
    facts.frames += to - from;
  }

  get facts(): Readonly<CodeFacts> {
    return this.#facts;
  }
}

function emptyFacts(): CodeFacts {
  return {
    frames: 0,
    highest: Number.NEGATIVE_INFINITY,
    lowest: Number.POSITIVE_INFINITY,
    longestRunHigh: 0,
    longestRunLow: 0,
    framesHigh: 0,
    framesLow: 0,
  };
}
