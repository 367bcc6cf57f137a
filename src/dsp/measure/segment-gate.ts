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

  /**
   * @param powers sums of squares of the segment's four quarters
   * @param quarterFrames that each of them holds
   */
  judge(powers: ArrayLike<number>, quarterFrames: number): Admission {
    let total = 0;
    let highest = 0;
    let lowest = Number.POSITIVE_INFINITY;
    for (let part = 0; part < 4; part += 1) {
      const power = powers[part]!;
      total += power;
      highest = Math.max(highest, power);
      lowest = Math.min(lowest, power);
    }
    this.meanSquare = total / (4 * quarterFrames);
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

/** Sums of squares of four quarters from `from` on; up to three samples are left over. */
export function quarterPowers(
  samples: Float64Array,
  from: number,
  quarterFrames: number,
  into: Float64Array,
): Float64Array {
  for (let part = 0; part < 4; part += 1) {
    let power = 0;
    const start = from + part * quarterFrames;
    for (let n = start; n < start + quarterFrames; n += 1) power += samples[n]! * samples[n]!;
    into[part] = power;
  }
  return into;
}
