/**
 * Equivalent level of a stream (Leq of IEC 61672-1, 3.13, as a mean square): since the last reset, and over
 * the last so many seconds. DC counts. Squares are summed for each step, and the sum over steps carries
 * its rounding along (A. Neumaier, 1974), so that a day is as exact as a second. The recent mean is added
 * up anew from its steps: nothing is ever subtracted, and silence after noise reads 0.
 */
export class EquivalentLevel {
  /** In whole steps; those of the unfinished one wait. */
  frames = 0;
  readonly #stepFrames: number;
  readonly #steps: Float64Array;
  /** Sum of whole steps, what its rounding lost, sum of the step under way: kept in an array, so unboxed. */
  readonly #sums = new Float64Array(3);
  #stepHeld = 0;
  #stepCount = 0;

  /**
   * @param recentSeconds what `recentMeanSquare` spans, rounded to whole steps
   * @param stepSeconds its grain, 0.1 s unless said otherwise
   */
  constructor(sampleRateHz: number, recentSeconds: number, stepSeconds = 0.1) {
    this.#stepFrames = Math.round(stepSeconds * sampleRateHz);
    const steps = Math.round(recentSeconds / stepSeconds);
    if (!(this.#stepFrames >= 1 && steps >= 1)) {
      throw new RangeError(`${recentSeconds} s in steps of ${stepSeconds} s leaves nothing to average.`);
    }
    this.#steps = new Float64Array(steps);
  }

  reset(): void {
    this.frames = 0;
    this.#sums.fill(0);
    this.#stepHeld = 0;
    this.#stepCount = 0;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    for (let start = from; start < to; ) {
      const end = Math.min(to, start + this.#stepFrames - this.#stepHeld);
      this.#addSquares(samples, start, end);
      this.#stepHeld += end - start;
      start = end;
      if (this.#stepHeld === this.#stepFrames) this.#closeStep();
    }
  }

  /** Since the last reset, the unfinished step included, full scale 1.0 squared; 0 before the first frame. */
  get meanSquare(): number {
    const frames = this.frames + this.#stepHeld;
    const [sum, lost, stepSum] = [this.#sums[0]!, this.#sums[1]!, this.#sums[2]!];
    return frames > 0 ? (sum + lost + stepSum) / frames : 0;
  }

  /** Over the last whole steps, fewer where the stream is younger; 0 before the first is full. */
  get recentMeanSquare(): number {
    const count = Math.min(this.#stepCount, this.#steps.length);
    let sum = 0;
    for (let step = 0; step < count; step += 1) sum += this.#steps[step]!;
    return count > 0 ? sum / (count * this.#stepFrames) : 0;
  }

  #addSquares(samples: Float32Array | Float64Array, from: number, to: number): void {
    let sum = 0;
    for (let n = from; n < to; n += 1) sum += samples[n]! * samples[n]!;
    this.#sums[2]! += sum;
  }

  #closeStep(): void {
    const sums = this.#sums;
    const before = sums[0]!;
    const added = sums[2]!;
    const sum = before + added;
    sums[1]! += Math.abs(before) >= Math.abs(added) ? before - sum + added : added - sum + before;
    sums[0] = sum;
    sums[2] = 0;
    this.#steps[this.#stepCount % this.#steps.length] = added;
    this.#stepCount += 1;
    this.frames += this.#stepFrames;
    this.#stepHeld = 0;
  }
}
