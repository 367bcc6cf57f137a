/** Power of a quarter of a segment against the whole: a tone that starts, stops or steps inside moves it further. */
const WITHIN_SEGMENT = 0.2;

/** Power of a segment against the first one taken: 0.5 dB. */
const BETWEEN_SEGMENTS = 0.12;

/** `take` it along with the others, `skip` it, or `restart` with it: its level has held for longer than theirs. */
export type Admission = 'take' | 'skip' | 'restart';

/**
 * Lets only those segments into the averaged spectrum that hold one level, and the same one: the edge of
 * a fade or of a silence would look like distortion.
 */
export class SegmentGate {
  /** Mean square of the segment judged last, full scale 1.0 squared. */
  meanSquare = 0;
  #taken = 0;
  #refusedInARow = 0;
  #usual = 0;

  /** Judges `frames` samples from `from` on. */
  judge(samples: Float64Array, from: number, frames: number): Admission {
    const quarter = frames >> 2;
    let total = 0;
    let highest = 0;
    let lowest = Number.POSITIVE_INFINITY;
    for (let part = 0; part < 4; part += 1) {
      let power = 0;
      for (let n = from + part * quarter; n < from + (part + 1) * quarter; n += 1) {
        power += samples[n]! * samples[n]!;
      }
      total += power;
      highest = Math.max(highest, power);
      lowest = Math.min(lowest, power);
    }
    this.meanSquare = total / (4 * quarter);
    const even = highest * 4 <= total * (1 + WITHIN_SEGMENT) && lowest * 4 >= total * (1 - WITHIN_SEGMENT);
    const alike = this.#taken > 0 && Math.abs(total / this.#usual - 1) <= BETWEEN_SEGMENTS;
    if (!(total > 0 && even)) return 'skip';
    if (alike) {
      this.#taken += 1;
      this.#refusedInARow = 0;
      return 'take';
    }
    this.#refusedInARow += 1;
    if (this.#refusedInARow <= this.#taken) return 'skip';
    this.#usual = total;
    this.#taken = 1;
    this.#refusedInARow = 0;
    return 'restart';
  }
}
