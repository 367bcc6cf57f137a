/** Time constants of IEC 61672-1, 3.8: `F` and `S`. */
export const FAST_SECONDS = 0.125;
export const SLOW_SECONDS = 1;

/** A mean square below this (-3000 dB) is silence; far lower ones would be denormal and slow. */
const SILENCE = 1e-300;

/**
 * Exponential time weighting of a stream (IEC 61672-1, 5.8 and equation 1): a first-order low-pass on the
 * square, DC included. It falls by 4.343 dB for each time constant after the sound stops: 34.7 dB/s fast,
 * 4.3 dB/s slow. Starts from silence, so the lowest level means something only after some time constants
 * and a `resetHold`. NaN stays until `reset`.
 */
export class TimeWeightedLevel {
  /** Weighted mean square now, full scale 1.0 squared. */
  meanSquare = 0;
  /** Largest since the last `resetHold`; 0 before anything. */
  highest = 0;
  /** Smallest since the last `resetHold`; Infinity before anything. */
  lowest = Number.POSITIVE_INFINITY;
  readonly #share: number;

  /** @throws RangeError unless the time constant is above 0 */
  constructor(timeConstantSeconds: number, sampleRateHz: number) {
    if (!(timeConstantSeconds > 0)) {
      throw new RangeError(`A time constant of ${timeConstantSeconds} s weights nothing.`);
    }
    // Of the exact solution for a square that holds still for one sample; expm1 keeps the digits of slow ones.
    this.#share = -Math.expm1(-1 / (sampleRateHz * timeConstantSeconds));
  }

  reset(): void {
    this.meanSquare = 0;
    this.resetHold();
  }

  resetHold(): void {
    this.highest = 0;
    this.lowest = Number.POSITIVE_INFINITY;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const share = this.#share;
    let now = this.meanSquare;
    let highest = this.highest;
    let lowest = this.lowest;
    for (let n = from; n < to; n += 1) {
      const x = samples[n]!;
      now += share * (x * x - now);
      if (now > highest) highest = now;
      if (now < lowest) lowest = now;
    }
    this.meanSquare = now < SILENCE ? 0 : now;
    this.highest = highest;
    this.lowest = lowest;
  }
}
