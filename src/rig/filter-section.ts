import { prototypeSections } from './filter-sections.ts';
import type { RigFilter } from './rig-parts.ts';

/** One step of a filter that runs sample by sample. */
interface Section {
  run(sample: number): number;
}

/**
 * Second order as two integrators by the trapezoidal rule, which is the
 * bilinear transform; unlike the direct form it keeps its precision at a
 * corner far below the rate (V. Zavalishin, "The Art of VA Filter Design",
 * chapter 4).
 */
class SecondOrder implements Section {
  readonly #turn: number;
  readonly #damping: number;
  readonly #scale: number;
  readonly #isHighPass: boolean;
  #first = 0;
  #second = 0;

  /** @param turn `tan(pi f / rate)` of the section's own frequency */
  constructor(turn: number, quality: number, isHighPass: boolean) {
    this.#turn = turn;
    this.#damping = 1 / quality;
    this.#scale = 1 / (1 + turn * (this.#damping + turn));
    this.#isHighPass = isHighPass;
  }

  run(sample: number): number {
    const turn = this.#turn;
    const high = (sample - (this.#damping + turn) * this.#first - this.#second) * this.#scale;
    const band = turn * high + this.#first;
    const low = turn * band + this.#second;
    this.#first = turn * high + band;
    this.#second = turn * band + low;
    return this.#isHighPass ? high : low;
  }
}

/** First order, by the same rule. */
export class FirstOrder implements Section {
  readonly #share: number;
  readonly #isHighPass: boolean;
  #state = 0;

  /** @param turn `tan(pi f / rate)` of the corner */
  constructor(turn: number, isHighPass: boolean) {
    this.#share = turn / (1 + turn);
    this.#isHighPass = isHighPass;
  }

  run(sample: number): number {
    const step = (sample - this.#state) * this.#share;
    const low = this.#state + step;
    this.#state = low + step;
    return this.#isHighPass ? sample - low : low;
  }
}

/** `tan(pi f / rate)`: what prewarping makes of a corner, so that the filter is exact there. */
export function turnOf(frequencyHz: number, rateHz: number): number {
  return Math.tan((Math.PI * frequencyHz) / rateHz);
}

/** Sections in series. Allocates nothing after construction. */
export class FilterChain {
  readonly #sections: Section[] = [];
  readonly #rateHz: number;

  constructor(rateHz: number) {
    this.#rateHz = rateHz;
  }

  add(kind: 'high-pass' | 'low-pass', filter: RigFilter): void {
    const corner = turnOf(filter.cutoffHz, this.#rateHz);
    for (const { radians, quality } of prototypeSections(filter)) {
      this.#push(kind, kind === 'low-pass' ? corner * radians : corner / radians, quality);
    }
  }

  addSecondOrder(kind: 'high-pass' | 'low-pass', frequencyHz: number, quality: number): void {
    this.#push(kind, turnOf(frequencyHz, this.#rateHz), quality);
  }

  #push(kind: 'high-pass' | 'low-pass', turn: number, quality: number | null): void {
    const isHighPass = kind === 'high-pass';
    this.#sections.push(
      quality === null ? new FirstOrder(turn, isHighPass) : new SecondOrder(turn, quality, isHighPass),
    );
  }

  run(sample: number): number {
    let value = sample;
    for (let index = 0; index < this.#sections.length; index += 1) value = this.#sections[index]!.run(value);
    return value;
  }
}
