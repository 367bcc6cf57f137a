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

const KERNELS: readonly Float64Array[] = Array.from({ length: OVERSAMPLING }, (_, step) =>
  sincKernel(step / OVERSAMPLING, HALF_FRAMES),
);

/**
 * Writes the `OVERSAMPLING` values from `frame` up to the next one.
 *
 * @param samples silent before and after, or endlessly repeated
 */
export function oversample(
  samples: Float64Array,
  frame: number,
  isLooped: boolean,
  into: Float64Array,
): void {
  const { length } = samples;
  const first = frame - HALF_FRAMES + 1;
  const isInside = first >= 0 && frame + HALF_FRAMES < length;
  for (let step = 0; step < OVERSAMPLING; step += 1) {
    const kernel = KERNELS[step]!;
    let sum = 0;
    for (let index = 0; index < kernel.length; index += 1) {
      let at = first + index;
      if (!isInside) {
        if (isLooped) at = ((at % length) + length) % length;
        else if (at < 0 || at >= length) continue;
      }
      sum += kernel[index]! * samples[at]!;
    }
    into[step] = sum;
  }
}
