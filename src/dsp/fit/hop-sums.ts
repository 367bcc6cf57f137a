import { type KnownFrequencyFit, solveKnownFrequency } from './known-frequency-fit.ts';

/** Doubles for each hop: sum, sums with cosine and sine about the hop's own middle, sum of squares. */
const STRIDE = 4;

/**
 * What overlapping segments of a record share: the sums of each hop at one frequency, taken once and put
 * together for every segment that the hop lies in. Gives the fit of `fitAtKnownFrequency` and the power of
 * each part, with the same figures to rounding.
 */
export class HopSums {
  readonly #hopFrames: number;
  readonly #hops: number;
  readonly #w: number;
  /** Sums of the latest hops; hop `h` stands at `h modulo #hops`. */
  readonly #sums: Float64Array;
  readonly #middle = { sum: 0, cosine: 0, sine: 0 };
  #first = 0;
  #full = false;

  /**
   * @param hopFrames from one segment to the next @param hops that make one segment
   * @param w radians per frame
   */
  constructor(hopFrames: number, hops: number, w: number) {
    this.#hopFrames = hopFrames;
    this.#hops = hops;
    this.#w = w;
    this.#sums = new Float64Array(hops * STRIDE);
  }

  /** Takes in the segment that begins at `from`: the first, or one hop further on than the one before. */
  advance(samples: Float32Array | Float64Array, from: number): void {
    const known = this.#full ? this.#hops - 1 : 0;
    if (this.#full) this.#first += 1;
    this.#full = true;
    for (let place = known; place < this.#hops; place += 1) {
      this.#gather(samples, from + place * this.#hopFrames, this.#at(place));
    }
  }

  /** Sum of squares of one hop of the segment. */
  power(place: number): number {
    return this.#sums[this.#at(place) + 3]!;
  }

  /** Three-parameter least-squares fit over the segment, from its first sample. */
  fit(into: KnownFrequencyFit): KnownFrequencyFit {
    const middle = this.#middle;
    middle.sum = middle.cosine = middle.sine = 0;
    for (let place = 0; place < this.#hops; place += 1) {
      const at = this.#at(place);
      const away = this.#w * this.#hopFrames * (place - (this.#hops - 1) / 2);
      const cosine = Math.cos(away);
      const sine = Math.sin(away);
      middle.sum += this.#sums[at]!;
      middle.cosine += this.#sums[at + 1]! * cosine - this.#sums[at + 2]! * sine;
      middle.sine += this.#sums[at + 2]! * cosine + this.#sums[at + 1]! * sine;
    }
    return solveKnownFrequency(middle, this.#hops * this.#hopFrames, this.#w, into);
  }

  #at(place: number): number {
    return ((this.#first + place) % this.#hops) * STRIDE;
  }

  #gather(samples: Float32Array | Float64Array, from: number, at: number): void {
    const w = this.#w;
    const middle = (this.#hopFrames - 1) / 2;
    const last = from + this.#hopFrames - 1;
    const stepCosine = Math.cos(2 * w);
    const stepSine = Math.sin(2 * w);
    // Two phasors, a frame apart: one alone would wait at every sample for its own last turn.
    let cosine = Math.cos(w * middle);
    let sine = -Math.sin(w * middle);
    let nextCosine = Math.cos(w * (1 - middle));
    let nextSine = Math.sin(w * (1 - middle));
    let sum = 0;
    let sumCosine = 0;
    let sumSine = 0;
    let power = 0;
    for (let n = from; n < last; n += 2) {
      const x = samples[n]!;
      const y = samples[n + 1]!;
      sum += x + y;
      power += x * x + y * y;
      sumCosine += x * cosine + y * nextCosine;
      sumSine += x * sine + y * nextSine;
      const turned = cosine * stepCosine - sine * stepSine;
      sine = sine * stepCosine + cosine * stepSine;
      cosine = turned;
      const nextTurned = nextCosine * stepCosine - nextSine * stepSine;
      nextSine = nextSine * stepCosine + nextCosine * stepSine;
      nextCosine = nextTurned;
    }
    if (this.#hopFrames % 2 === 1) {
      const x = samples[last]!;
      sum += x;
      power += x * x;
      sumCosine += x * cosine;
      sumSine += x * sine;
    }
    this.#sums[at] = sum;
    this.#sums[at + 1] = sumCosine;
    this.#sums[at + 2] = sumSine;
    this.#sums[at + 3] = power;
  }
}
