/**
 * Taps of the 4-phase interpolator of ITU-R BS.1770-5 Annex 2 (BS.1770-4 alike), phases 0 and 1.
 * Phase 3 is phase 0 reversed, phase 2 is phase 1 reversed. All are multiples of 2^-13.
 */
const PHASE_0 = [
  0.001708984375, 0.010986328125, -0.0196533203125, 0.033203125, -0.0594482421875, 0.1373291015625,
  0.97216796875, -0.102294921875, 0.047607421875, -0.026611328125, 0.014892578125, -0.00830078125,
] as const;
const PHASE_1 = [
  -0.0291748046875, 0.029296875, -0.0517578125, 0.089111328125, -0.16650390625, 0.465087890625, 0.77978515625,
  -0.2003173828125, 0.1015625, -0.0582275390625, 0.0330810546875, -0.0189208984375,
] as const;

const TAPS = 12;
const HISTORY = TAPS - 1;

/** Outputs judged at once by the bounds: long enough to cost little, short enough to hold one crest. */
const STEP = 64;

/** Bounds are taken this much wider, far more than the rounding of twelve products. */
const ROUNDING = 1 + 1e-12;

/** Of the twelve samples an output is made of, the two that it lies between: so many before the newest. */
const LATER_CENTRE = 5;
const EARLIER_CENTRE = 6;

const OUTER = phaseBound(PHASE_0);
const INNER = phaseBound(PHASE_1);

/** No output of any phase exceeds this times the largest input among its twelve. */
const WORST_GAIN = ROUNDING * Math.max(OUTER.sumOfMagnitudes, INNER.sumOfMagnitudes);

type Samples = Float32Array | Float64Array;

/**
 * True-peak meter of ITU-R BS.1770 Annex 2, streaming: the largest magnitude that the four-times
 * interpolated signal reaches.
 *
 * The filter itself is off by -0.30 to +0.22 dB below 0.42 of the sample rate (references, item 7); that
 * is the standard's reading, not an error here. Only places where all twelve taps lie inside the stream
 * count: nothing is assumed before its first sample or after its last.
 *
 * Outputs that provably cannot raise the maximum are not computed. Two bounds hold for each: the sum of
 * its phase's magnitudes times the largest sample in reach, and, since a phase is a straight line between
 * the two middle samples plus a weighting of second differences (`phaseBound`), the larger of those two
 * times the phase's DC gain plus the weights' magnitudes times the largest second difference in reach.
 */
export class TruePeakMeter {
  /** Largest magnitude so far, full scale 1.0; 0 before twelve samples were pushed. */
  peak = 0;
  /** The stream's last eleven samples, then room for the first eleven of the next block. */
  #seam: Samples = new Float32Array(0);
  #held = 0;
  /** Whether the step judged last came near the peak. */
  #near = false;

  reset(): void {
    this.peak = 0;
    this.#held = 0;
    this.#near = false;
  }

  push(samples: Samples, from: number, to: number): void {
    const seam = this.#seamLike(samples);
    const atSeam = Math.min(to - from, HISTORY);
    for (let n = 0; n < atSeam; n += 1) seam[this.#held + n] = samples[from + n]!;
    this.#judge(seam, HISTORY, this.#held + atSeam);
    this.#judge(samples, from + HISTORY, to);
    if (to - from >= HISTORY) {
      for (let n = 0; n < HISTORY; n += 1) seam[n] = samples[to - HISTORY + n]!;
      this.#held = HISTORY;
    } else {
      const all = this.#held + atSeam;
      const kept = Math.min(all, HISTORY);
      seam.copyWithin(0, all - kept, all);
      this.#held = kept;
    }
  }

  /** Of the samples' own kind: code that meets one kind of array is twice as fast as code that meets two. */
  #seamLike(samples: Samples): Samples {
    const length = 2 * HISTORY;
    if (samples instanceof Float64Array && !(this.#seam instanceof Float64Array)) {
      this.#seam = Float64Array.from({ length }, (_, n) => this.#seam[n] ?? 0);
    } else if (this.#seam.length === 0) this.#seam = new Float32Array(length);
    return this.#seam;
  }

  /** Takes in the outputs whose newest sample is `from` up to `to`; eleven samples before it are there. */
  #judge(samples: Samples, from: number, to: number): void {
    for (let start = from; start < to; start += STEP) {
      const end = Math.min(to, start + STEP);
      // Where the step before came near the peak, the rough bound would be in vain.
      if (!this.#near && !this.#mayRaise(samples, start, end)) continue;
      this.#near = this.#judgeClosely(samples, start, end);
    }
  }

  #mayRaise(samples: Samples, from: number, to: number): boolean {
    let largest = 0;
    for (let n = from - HISTORY; n < to; n += 1) {
      const magnitude = Math.abs(samples[n]!);
      if (magnitude > largest) largest = magnitude;
    }
    return largest * WORST_GAIN > this.peak;
  }

  /** @returns whether any output had to be computed */
  #judgeClosely(samples: Samples, from: number, to: number): boolean {
    let bend = 0;
    let before = samples[from - HISTORY]!;
    let here = samples[from - HISTORY + 1]!;
    for (let n = from - HISTORY + 2; n < to; n += 1) {
      const after = samples[n]!;
      const magnitude = Math.abs(after - here - (here - before));
      if (magnitude > bend) bend = magnitude;
      before = here;
      here = after;
    }
    let least = leastThatRaises(this.peak, bend);
    let near = false;
    let earlierIsLow = Math.abs(samples[from - EARLIER_CENTRE]!) < least;
    for (let newest = from; newest < to; newest += 1) {
      const laterIsLow = Math.abs(samples[newest - LATER_CENTRE]!) < least;
      if (!(earlierIsLow && laterIsLow)) {
        near = true;
        const before = this.peak;
        this.#interpolate(samples, newest);
        if (this.peak > before) least = leastThatRaises(this.peak, bend);
      }
      earlierIsLow = laterIsLow;
    }
    return near;
  }

  /**
   * Takes in the four outputs whose newest sample is `n`, at once. Mirrored phases `y` and `y'` share their samples, so sum
   * and difference of each outer pair serve both: `max(|y|, |y'|) = (|y + y'| + |y - y'|) / 2`. The factors
   * are `2^13 (tap + mirror tap)` and `2^13 (tap - mirror tap)` of the tables above; written out, since a
   * table in memory makes this half as fast.
   */
  #interpolate(x: Samples, n: number): void {
    const s0 = x[n]! + x[n - 11]!;
    const d0 = x[n]! - x[n - 11]!;
    const s1 = x[n - 1]! + x[n - 10]!;
    const d1 = x[n - 1]! - x[n - 10]!;
    const s2 = x[n - 2]! + x[n - 9]!;
    const d2 = x[n - 2]! - x[n - 9]!;
    const s3 = x[n - 3]! + x[n - 8]!;
    const d3 = x[n - 3]! - x[n - 8]!;
    const s4 = x[n - 4]! + x[n - 7]!;
    const d4 = x[n - 4]! - x[n - 7]!;
    const s5 = x[n - 5]! + x[n - 6]!;
    const d5 = x[n - 5]! - x[n - 6]!;
    const outerSum = -54 * s0 + 212 * s1 - 379 * s2 + 662 * s3 - 1325 * s4 + 9089 * s5;
    const outerDifference = 82 * d0 - 32 * d1 + 57 * d2 - 118 * d3 + 351 * d4 - 6839 * d5;
    const innerSum = -394 * s0 + 511 * s1 - 901 * s2 + 1562 * s3 - 3005 * s4 + 10198 * s5;
    const innerDifference = -84 * d0 - 31 * d1 + 53 * d2 - 102 * d3 + 277 * d4 - 2578 * d5;
    const outer = Math.abs(outerSum) + Math.abs(outerDifference);
    const inner = Math.abs(innerSum) + Math.abs(innerDifference);
    const largest = Math.max(outer, inner) * 2 ** -14;
    if (largest > this.peak) this.peak = largest;
  }
}

/** A middle sample smaller than this makes no output above `peak` where no second difference exceeds `bend`. */
function leastThatRaises(peak: number, bend: number): number {
  const outer = (peak / ROUNDING - OUTER.bendWeight * bend) / OUTER.gain;
  const inner = (peak / ROUNDING - INNER.bendWeight * bend) / INNER.gain;
  return Math.min(outer, inner);
}

/**
 * What bounds a phase's output (its mirror image has the same bounds).
 *
 * Let `gain` be the sum of the taps and their centroid lie between taps `i` and `i + 1`. The taps less
 * `gain` times the straight line between those two sum to 0 and have no first moment, so they are a
 * weighting of second differences: the weights are the running sum of their running sum.
 */
function phaseBound(taps: readonly number[]): { sumOfMagnitudes: number; gain: number; bendWeight: number } {
  let gain = 0;
  let moment = 0;
  let sumOfMagnitudes = 0;
  for (const [place, tap] of taps.entries()) {
    gain += tap;
    moment += place * tap;
    sumOfMagnitudes += Math.abs(tap);
  }
  const beyond = moment / gain - LATER_CENTRE;
  if (!(beyond >= 0 && beyond <= 1)) throw new RangeError('The taps do not lie about their middle.');
  let once = 0;
  let twice = 0;
  let bendWeight = 0;
  for (const [place, tap] of taps.entries()) {
    const ofLine = place === LATER_CENTRE ? 1 - beyond : place === EARLIER_CENTRE ? beyond : 0;
    once += tap - gain * ofLine;
    twice += once;
    bendWeight += Math.abs(twice);
  }
  return { sumOfMagnitudes, gain, bendWeight };
}
