import { besselI0 } from '../spectrum/kaiser.ts';

/** Entries of the window's table per frame; linear between them it errs by less than 1e-8. */
const ENTRIES_PER_FRAME = 1024;

/** Side lobes of the default window: -98 dB from 0.55 of the sample rate upward, flat to 0.45 of it. */
const DEFAULT_HALF_FRAMES = 32;
const KAISER_BETA = 9.8;

/**
 * Values of a sampled signal between its samples: the sinc kernel under a Kaiser window (J. F. Kaiser, "Nonrecursive
 * digital filter design using the I0-sinh window function", IEEE ISCAS 1974). Right to -98 dB for signals
 * below 0.45 of the sample rate. Beyond the ends the signal counts as zero.
 */
export class SincInterpolator {
  readonly #halfFrames: number;
  readonly #window: Float64Array;

  /** @param halfFrames reach of the kernel to each side, a whole number */
  constructor(halfFrames = DEFAULT_HALF_FRAMES) {
    this.#halfFrames = halfFrames;
    this.#window = new Float64Array(halfFrames * ENTRIES_PER_FRAME + 2);
    for (let entry = 0; entry <= halfFrames * ENTRIES_PER_FRAME; entry += 1) {
      const share = entry / (halfFrames * ENTRIES_PER_FRAME);
      this.#window[entry] = besselI0(KAISER_BETA * Math.sqrt(1 - share * share)) / besselI0(KAISER_BETA);
    }
  }

  /** Value at a fractional frame. NaN among the samples it reaches gives NaN. */
  valueAt(samples: ArrayLike<number>, frame: number): number {
    const base = Math.floor(frame);
    const fraction = frame - base;
    if (fraction === 0) return base >= 0 && base < samples.length ? samples[base]! : 0;
    const first = Math.max(0, base - this.#halfFrames + 1);
    const last = Math.min(samples.length - 1, base + this.#halfFrames);
    let sum = 0;
    for (let at = first; at <= last; at += 1) {
      const away = frame - at;
      const place = Math.abs(away) * ENTRIES_PER_FRAME;
      const entry = Math.floor(place);
      const low = this.#window[entry]!;
      const weight = low + (place - entry) * (this.#window[entry + 1]! - low);
      // sin(pi (fraction + j)) is sin(pi fraction), its sign turning with each j.
      sum += (((base - at) & 1 ? -1 : 1) * weight * samples[at]!) / away;
    }
    return (sum * Math.sin(Math.PI * fraction)) / Math.PI;
  }
}
