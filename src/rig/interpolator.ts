import { besselI0 } from '../dsp/spectrum/kaiser.ts';
import { OVERSAMPLING } from './decimator.ts';

/** Reach of the kernel to each side, samples; with this window flat to 0.45 of the rate, images -98 dB from 0.55 on. */
const HALF_FRAMES = 32;
const KAISER_BETA = 9.8;

/**
 * A sinc kernel under a Kaiser window (J. F. Kaiser, IEEE ISCAS 1974) for a
 * place between two samples, scaled to sum 1: weight of the sample
 * `index - halfFrames + 1` frames after the first of the two.
 *
 * @param fraction 0 (on the first) to 1
 */
export function sincKernel(fraction: number, halfFrames: number, beta = KAISER_BETA): Float64Array {
  const kernel = new Float64Array(2 * halfFrames);
  let sum = 0;
  for (let index = 0; index < kernel.length; index += 1) {
    const away = fraction - (index - halfFrames + 1);
    const share = Math.min(1, Math.abs(away) / halfFrames);
    const sinc = away === 0 ? 1 : Math.sin(Math.PI * away) / (Math.PI * away);
    kernel[index] = sinc * besselI0(beta * Math.sqrt(1 - share * share));
    sum += kernel[index]!;
  }
  for (let index = 0; index < kernel.length; index += 1) kernel[index] = kernel[index]! / sum;
  return kernel;
}

/** Between a sample and the next. */
const MIDDLE = sincKernel(0.5, HALF_FRAMES);

/**
 * Behind the first step the signal ends at a quarter of the doubled rate, and
 * its images begin at three quarters: a short kernel keeps them apart.
 */
const FINE_HALF = 6;
const FINE_STEPS = OVERSAMPLING / 2;
const FINE_KERNELS: readonly Float64Array[] = Array.from({ length: FINE_STEPS }, (_, step) =>
  sincKernel(step / FINE_STEPS, FINE_HALF),
);

/** So long after its last sample a track still rings in what is read; then there are exact zeros. */
export const RINGING_FRAMES = HALF_FRAMES + FINE_HALF;

/** A rendered track, read frame by frame at the oversampled rate: doubled first, then the rest of the way. */
export class Interpolator {
  readonly #samples: Float64Array;
  readonly #isLooped: boolean;
  /** The doubled signal from `FINE_HALF - 1` places before this frame to `FINE_HALF + 1` after it. */
  readonly #doubled = new Float64Array(2 * FINE_HALF + 2);
  #frame = 0;

  /** @param isLooped endlessly repeated; otherwise silent before and after */
  constructor(samples: Float64Array, isLooped: boolean) {
    this.#samples = samples;
    this.#isLooped = isLooped;
    // Places before the first frame, so that the window is full when it is read.
    for (let frame = -FINE_HALF; frame < FINE_HALF / 2; frame += 1) this.#take(frame);
  }

  /** Writes the `OVERSAMPLING` values from this frame up to the next one, and goes on to that. */
  next(into: Float64Array): void {
    this.#take(this.#frame + FINE_HALF / 2);
    for (let half = 0; half < 2; half += 1) {
      for (let step = 0; step < FINE_STEPS; step += 1) {
        const kernel = FINE_KERNELS[step]!;
        let sum = 0;
        for (let index = 0; index < kernel.length; index += 1) {
          sum += kernel[index]! * this.#doubled[half + index + 1]!;
        }
        into[half * FINE_STEPS + step] = sum;
      }
    }
    this.#frame += 1;
    if (this.#isLooped && this.#frame >= this.#samples.length) this.#frame = 0;
  }

  /** Moves a frame and the place behind it into the window's end. */
  #take(frame: number): void {
    this.#doubled.copyWithin(0, 2);
    this.#doubled[2 * FINE_HALF] = this.#sampleAt(frame);
    this.#doubled[2 * FINE_HALF + 1] = this.#afterwards(frame);
  }

  /** Half a frame after `frame`. */
  #afterwards(frame: number): number {
    const first = frame - HALF_FRAMES + 1;
    const samples = this.#samples;
    let sum = 0;
    if (first >= 0 && frame + HALF_FRAMES < samples.length) {
      for (let index = 0; index < MIDDLE.length; index += 1) sum += MIDDLE[index]! * samples[first + index]!;
      return sum;
    }
    for (let index = 0; index < MIDDLE.length; index += 1)
      sum += MIDDLE[index]! * this.#sampleAt(first + index);
    return sum;
  }

  #sampleAt(frame: number): number {
    const { length } = this.#samples;
    if (this.#isLooped) return this.#samples[((frame % length) + length) % length]!;
    return frame >= 0 && frame < length ? this.#samples[frame]! : 0;
  }
}
