import { prototypeSections } from './filter-sections.ts';
import type { RigFilter } from './rig-parts.ts';

interface Section {
  /** Filters a stretch in place; the next one goes on where it ended. */
  run(values: Float64Array): void;
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

  run(values: Float64Array): void {
    const turn = this.#turn;
    const damping = this.#damping + turn;
    const scale = this.#scale;
    const isHighPass = this.#isHighPass;
    let first = this.#first;
    let second = this.#second;
    for (let at = 0; at < values.length; at += 1) {
      const high = (values[at]! - damping * first - second) * scale;
      const band = turn * high + first;
      const low = turn * band + second;
      first = turn * high + band;
      second = turn * band + low;
      values[at] = isHighPass ? high : low;
    }
    this.#first = first;
    this.#second = second;
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

  run(values: Float64Array): void {
    for (let at = 0; at < values.length; at += 1) values[at] = this.step(values[at]!);
  }

  step(sample: number): number {
    const rise = (sample - this.#state) * this.#share;
    const low = this.#state + rise;
    this.#state = low + rise;
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

  run(values: Float64Array): void {
    for (let index = 0; index < this.#sections.length; index += 1) this.#sections[index]!.run(values);
  }
}
