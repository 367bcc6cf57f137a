/**
 * Windows that are sums of cosines, periodic (DFT-even): `w[n] = sum of (-1)^k c[k] cos(2 pi k n / N)`.
 * Periodic, because a symmetric one lets a bin-centred sine leak at -85 dBc where this one gives -278.
 */

/** J. von Hann's window. */
export const HANN: readonly number[] = [0.5, 0.5];

/** 4-term, -92 dB: F. J. Harris, Proc. IEEE 66(1) 1978, table 1. */
export const BLACKMAN_HARRIS: readonly number[] = [0.35875, 0.48829, 0.14128, 0.01168];

/**
 * The flat top of SciPy and MATLAB: G. D'Antona and A. Ferrero, *Digital Signal Processing for
 * Measurement Systems*, 2006, pp. 70-72. Four different windows go by the name; this is the -93 dB one.
 */
export const FLAT_TOP: readonly number[] = [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368];

/**
 * @param coefficients `c[0]`, `c[1]`, ... scaled for a peak of 1
 * @param length how many samples one period of the window has
 */
export function cosineWindow(coefficients: readonly number[], length: number): Float64Array {
  const window = new Float64Array(length);
  for (let n = 0; n < length; n += 1) {
    let value = 0;
    let sign = 1;
    for (let k = 0; k < coefficients.length; k += 1) {
      value += sign * coefficients[k]! * Math.cos((2 * Math.PI * ((k * n) % length)) / length);
      sign = -sign;
    }
    window[n] = value;
  }
  return window;
}
