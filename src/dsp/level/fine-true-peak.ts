import { INSTANTS, SINC_TAPS, sincBounds, sincRows } from './sinc-kernel.ts';

const HISTORY = SINC_TAPS - 1;
/** Samples judged at once by the bound. */
const STEP = 64;

const ROWS = sincRows();
const BOUNDS = sincBounds(ROWS);

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
 * length `h` by at most `D h^2 / 8`. What is skipped provably could not.
 */
export class FineTruePeakMeter {
  /** Largest magnitude so far, full scale 1.0; 0 before the first sample. */
  peak = 0;
  readonly #line = new Float64Array(HISTORY + STEP);
  /** Magnitudes at the instants of one interval; -1 where not computed. */
  readonly #instants = new Float64Array(INSTANTS + 1);
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
      if (this.#held >= SINC_TAPS) this.#judge();
    }
  }

  /** Takes in the intervals whose taps all lie in the line, then keeps what the next ones need. */
  #judge(): void {
    const line = this.#line;
    const held = this.#held;
    let largest = 0;
    for (let n = 0; n < held; n += 1) {
      const magnitude = Math.abs(line[n]!);
      if (magnitude > largest) largest = magnitude;
    }
    if (largest * (BOUNDS.near + BOUNDS.far) > this.peak) {
      const far = largest * BOUNDS.far;
      for (let first = 0; first + SINC_TAPS <= held; first += 1) {
        const before = Math.abs(line[first + SINC_TAPS / 2 - 1]!);
        const after = Math.abs(line[first + SINC_TAPS / 2]!);
        if (BOUNDS.near * Math.max(before, after) + far <= this.peak) continue;
        this.#halve(first, before, after, largest);
      }
    }
    line.copyWithin(0, held - HISTORY, held);
    this.#held = HISTORY;
  }

  /** @param first tap's place in the line @param before, after: magnitudes at the interval's two ends */
  #halve(first: number, before: number, after: number, largest: number): void {
    const instants = this.#instants;
    instants.fill(-1);
    instants[0] = before;
    instants[INSTANTS] = after;
    let rise = (largest * BOUNDS.curvature) / 8;
    let open = true;
    for (let width = INSTANTS; width > 1 && open; width /= 2) {
      open = false;
      for (let start = 0; start < INSTANTS; start += width) {
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
    let sum = 0;
    for (let tap = 0; tap < SINC_TAPS; tap += 1) sum += ROWS[instant * SINC_TAPS + tap]! * line[first + tap]!;
    const magnitude = Math.abs(sum);
    this.#instants[instant] = magnitude;
    if (magnitude > this.peak) this.peak = magnitude;
  }
}
