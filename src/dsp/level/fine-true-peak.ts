import { INSTANTS, SINC_TAPS, sincBounds, sincRows } from './sinc-kernel.ts';

const TAPS = SINC_TAPS;
const MIDDLE = TAPS / 2;
const LAST = INSTANTS;
const HISTORY = TAPS - 1;
/** Samples judged at once by the bound. */
const STEP = 64;

const ROWS = sincRows();
const { near: NEAR, far: FAR, curvature: CURVATURE, bend: BEND, bendRest: BEND_REST } = sincBounds();

/**
 * True peak by a finer interpolation than the standard's: within 0.01 dB for tones up to 0.45 of the sample
 * rate (measured: -0.001 to +0.003 dB), where the four-times filter of BS.1770 is off by -0.30 to +0.22 dB.
 * Above 0.45 it falls off, by 6 dB at half the sample rate.
 *
 * Every sample counts as it is; between samples only places where all 48 taps lie inside the stream count:
 * nothing is assumed before its first sample or after its last. NaN and what touches it are passed over.
 *
 * Each interval between two samples is halved, and halved again down to 1/64, but only where it can still
 * raise the maximum: a curve whose second derivative is at most `D` rises above the ends of a stretch of
 * length `h` by at most `D h^2 / 8`, and `D` follows from the largest sample and the largest second
 * difference in reach. What is skipped provably could not.
 */
export class FineTruePeakMeter {
  /** Largest magnitude so far, full scale 1.0; 0 before the first sample. */
  peak = 0;
  readonly #line = new Float64Array(HISTORY + STEP);
  /** Magnitudes at the instants of one interval; -1 where not computed. */
  readonly #instants = new Float64Array(LAST + 1);
  #held = 0;

  reset(): void {
    this.peak = 0;
    this.#held = 0;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const line = this.#line;
    for (let start = from; start < to; ) {
      const count = Math.min(to - start, line.length - this.#held);
      let peak = this.peak;
      for (let n = 0; n < count; n += 1) {
        const x = samples[start + n]!;
        line[this.#held + n] = x;
        const magnitude = Math.abs(x);
        if (magnitude > peak) peak = magnitude;
      }
      this.peak = peak;
      start += count;
      this.#held += count;
      if (this.#held >= TAPS) this.#judge();
    }
  }

  /** Takes in the intervals whose taps all lie in the line, then keeps what the next ones need. */
  #judge(): void {
    const line = this.#line;
    const held = this.#held;
    let largest = 0;
    let sharpest = 0;
    for (let n = 0; n < held; n += 1) {
      const magnitude = Math.abs(line[n]!);
      if (magnitude > largest) largest = magnitude;
    }
    for (let n = 1; n < held - 1; n += 1) {
      const bend = Math.abs(line[n - 1]! - 2 * line[n]! + line[n + 1]!);
      if (bend > sharpest) sharpest = bend;
    }
    const rise = Math.min(CURVATURE * largest, BEND * sharpest + BEND_REST * largest) / 8;
    const far = FAR * largest;
    if (largest + rise > this.peak && (NEAR + FAR) * largest > this.peak) {
      for (let first = 0; first + TAPS <= held; first += 1) {
        const before = Math.abs(line[first + MIDDLE - 1]!);
        const after = Math.abs(line[first + MIDDLE]!);
        const higher = Math.max(before, after);
        if (higher + rise <= this.peak || NEAR * higher + far <= this.peak) continue;
        this.#halve(first, before, after, rise);
      }
    }
    line.copyWithin(0, held - HISTORY, held);
    this.#held = HISTORY;
  }

  /**
   * @param first place of the interval's first tap in the line
   * @param before magnitude at the interval's start, @param after at its end
   * @param wholeRise most that it can rise above both in between
   */
  #halve(first: number, before: number, after: number, wholeRise: number): void {
    const instants = this.#instants;
    instants.fill(-1);
    instants[0] = before;
    instants[LAST] = after;
    let rise = wholeRise;
    let open = true;
    for (let width = LAST; width > 1 && open; width /= 2) {
      open = false;
      for (let start = 0; start < LAST; start += width) {
        const left = instants[start]!;
        const right = instants[start + width]!;
        if (!(left >= 0 && right >= 0) || Math.max(left, right) + rise <= this.peak) continue;
        this.#interpolate(first, start + width / 2);
        open = true;
      }
      rise /= 4;
    }
  }

  #interpolate(first: number, instant: number): void {
    const line = this.#line;
    const row = instant * TAPS;
    let even = 0;
    let odd = 0;
    for (let tap = 0; tap < TAPS; tap += 2) {
      even += ROWS[row + tap]! * line[first + tap]!;
      odd += ROWS[row + tap + 1]! * line[first + tap + 1]!;
    }
    const magnitude = Math.abs(even + odd);
    this.#instants[instant] = magnitude;
    if (magnitude > this.peak) this.peak = magnitude;
  }
}
