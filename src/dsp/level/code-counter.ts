import { NEAR_FULL_SCALE } from '../clipping/codes.ts';
import type { CodeFacts } from '../clipping/harmonic-view.ts';

/** Samples looked at together: where none of them comes near full scale there is nothing to count. */
const STEP = 256;

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

  /** As `push` of samples that reach no further than these extremes, where that is known already. */
  pushWithin(highest: number, lowest: number, samples: Float32Array | Float64Array, frames: number): void {
    const near = 1 - NEAR_FULL_SCALE;
    if (highest >= near || lowest <= -near) {
      this.push(samples, 0, frames);
      return;
    }
    const facts = this.#facts;
    if (highest > facts.highest) facts.highest = highest;
    if (lowest < facts.lowest) facts.lowest = lowest;
    facts.frames += frames;
    this.#runHigh = 0;
    this.#runLow = 0;
  }

  /** Blocks follow each other: a run may cross from one into the next. */
  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const facts = this.#facts;
    const near = 1 - NEAR_FULL_SCALE;
    for (let start = from; start < to; start += STEP) {
      const end = Math.min(to, start + STEP);
      let highest = Number.NEGATIVE_INFINITY;
      let lowest = Number.POSITIVE_INFINITY;
      for (let n = start; n < end; n += 1) {
        const x = samples[n]!;
        if (x > highest) highest = x;
        if (x < lowest) lowest = x;
      }
      if (highest > facts.highest) facts.highest = highest;
      if (lowest < facts.lowest) facts.lowest = lowest;
      if (highest >= near) this.#countHigh(samples, start, end, near);
      else this.#runHigh = 0;
      if (lowest <= -near) this.#countLow(samples, start, end, -near);
      else this.#runLow = 0;
    }
    facts.frames += to - from;
  }

  #countHigh(samples: Float32Array | Float64Array, from: number, to: number, near: number): void {
    const facts = this.#facts;
    for (let n = from; n < to; n += 1) {
      if (samples[n]! >= near) {
        facts.framesHigh += 1;
        this.#runHigh += 1;
        if (this.#runHigh > facts.longestRunHigh) facts.longestRunHigh = this.#runHigh;
      } else this.#runHigh = 0;
    }
  }

  #countLow(samples: Float32Array | Float64Array, from: number, to: number, near: number): void {
    const facts = this.#facts;
    for (let n = from; n < to; n += 1) {
      if (samples[n]! <= near) {
        facts.framesLow += 1;
        this.#runLow += 1;
        if (this.#runLow > facts.longestRunLow) facts.longestRunLow = this.#runLow;
      } else this.#runLow = 0;
    }
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
