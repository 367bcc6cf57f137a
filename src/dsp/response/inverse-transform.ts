import type { RealFft } from '../spectrum/real-fft.ts';

/**
 * Real samples of a Hermitian spectrum, by a forward transform of the same length: with `g = Re H + Im H`
 * over all bins, a Hartley transform, `x[n] = (Re G[n] + Im G[n]) / length` and `x[-n] = (Re G[n] - Im G[n]) / length`.
 *
 * @param spectrum bins 0 to length/2, real and imaginary parts in turn
 * @param samples receives `fft.length` samples
 */
export function inverseTransform(fft: RealFft, spectrum: ArrayLike<number>, samples: Float64Array): void {
  const { length, input } = fft;
  const half = length / 2;
  input[0] = spectrum[0]!;
  input[half] = spectrum[length]!;
  for (let bin = 1; bin < half; bin += 1) {
    const re = spectrum[2 * bin]!;
    const im = spectrum[2 * bin + 1]!;
    input[bin] = re + im;
    input[length - bin] = re - im;
  }
  fft.transform();
  const turned = fft.spectrum;
  samples[0] = turned[0]! / length;
  samples[half] = turned[length]! / length;
  for (let n = 1; n < half; n += 1) {
    samples[n] = (turned[2 * n]! + turned[2 * n + 1]!) / length;
    samples[length - n] = (turned[2 * n]! - turned[2 * n + 1]!) / length;
  }
}
