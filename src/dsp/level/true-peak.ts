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

const PHASE_0_EVEN = folded(PHASE_0, 1);
const PHASE_0_ODD = folded(PHASE_0, -1);
const PHASE_1_EVEN = folded(PHASE_1, 1);
const PHASE_1_ODD = folded(PHASE_1, -1);

/** Samples judged at once by the bound. */
const STEP = 64;

/** No output of any phase exceeds this times the largest input among its twelve. */
const WORST_GAIN = Math.max(sumOfMagnitudes(PHASE_0), sumOfMagnitudes(PHASE_1));

function sumOfMagnitudes(taps: readonly number[]): number {
  let sum = 0;
  for (const tap of taps) sum += Math.abs(tap);
  return sum;
}

/**
 * True-peak meter of ITU-R BS.1770 Annex 2, streaming: the largest magnitude that the four-times
 * interpolated signal reaches.
 *
 * The filter itself is off by -0.30 to +0.22 dB below 0.42 of the sample rate (references, item 7); that
 * is the standard's reading, not an error here. Only places where all twelve taps lie inside the stream
 * count: nothing is assumed before its first sample or after its last. Steps that provably cannot raise
 * the maximum (sum of the worst phase's magnitudes times the largest sample in reach) are skipped.
 */
export class TruePeakMeter {
  /** Largest magnitude so far, full scale 1.0; 0 before twelve samples were pushed. */
  peak = 0;
  readonly #line = new Float64Array(HISTORY + STEP);
  #held = 0;

  reset(): void {
    this.peak = 0;
    this.#held = 0;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const line = this.#line;
    for (let start = from; start < to; ) {
      const count = Math.min(to - start, line.length - this.#held);
      for (let n = 0; n < count; n += 1) line[this.#held + n] = samples[start + n]!;
      start += count;
      this.#held += count;
      if (this.#held >= TAPS) this.#judge();
    }
  }

  /** Takes in the outputs whose taps all lie in the line, then keeps the last eleven samples. */
  #judge(): void {
    const line = this.#line;
    const held = this.#held;
    let largest = 0;
    for (let n = 0; n < held; n += 1) {
      const magnitude = Math.abs(line[n]!);
      if (magnitude > largest) largest = magnitude;
    }
    if (largest * WORST_GAIN > this.peak) {
      for (let newest = HISTORY; newest < held; newest += 1) this.#interpolate(newest);
    }
    line.copyWithin(0, held - HISTORY, held);
    this.#held = HISTORY;
  }

  /**
   * All four phases at once. Mirrored phases `y` and `y'` share their samples, so sum and difference of
   * each outer pair serve both: `max(|y|, |y'|) = (|y + y'| + |y - y'|) / 2`.
   */
  #interpolate(newest: number): void {
    const line = this.#line;
    let outerSum = 0;
    let outerDifference = 0;
    let innerSum = 0;
    let innerDifference = 0;
    for (let tap = 0; tap < TAPS / 2; tap += 1) {
      const late = line[newest - tap]!;
      const early = line[newest - HISTORY + tap]!;
      const sum = late + early;
      const difference = late - early;
      outerSum += PHASE_0_EVEN[tap]! * sum;
      outerDifference += PHASE_0_ODD[tap]! * difference;
      innerSum += PHASE_1_EVEN[tap]! * sum;
      innerDifference += PHASE_1_ODD[tap]! * difference;
    }
    const outer = Math.abs(outerSum) + Math.abs(outerDifference);
    const inner = Math.abs(innerSum) + Math.abs(innerDifference);
    if (outer > this.peak) this.peak = outer;
    if (inner > this.peak) this.peak = inner;
  }
}

/** Half the sum (`sign` 1) or half the difference (-1) of each tap and its mirror image, outermost first. */
function folded(taps: readonly number[], sign: number): Float64Array {
  const half = new Float64Array(TAPS / 2);
  for (let tap = 0; tap < half.length; tap += 1) half[tap] = (taps[tap]! + sign * taps[HISTORY - tap]!) / 2;
  return half;
}
