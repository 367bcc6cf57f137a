/**
 * Taps of a symmetric FIR filter whose response follows a smooth magnitude up to `topShare` of the sample
 * rate, and does as it likes above. Its zero-phase response is a polynomial in `cos w`, so the fit is
 * interpolation at Chebyshev nodes of that stretch (near the best there is, and quick to converge where the
 * magnitude has no kink).
 *
 * @param magnitude of a frequency given as a share of the sample rate, above 0
 * @param degree delay of the filter, frames; it has `2 degree + 1` taps
 * @returns taps from the middle one outwards, `degree + 1` of them
 */
export function symmetricTaps(
  magnitude: (share: number) => number,
  degree: number,
  topShare: number,
): Float64Array {
  const lowest = Math.cos(2 * Math.PI * topShare);
  const middle = (1 + lowest) / 2;
  const half = (1 - lowest) / 2;
  const nodes = degree + 1;
  const values = Float64Array.from({ length: nodes }, (_, j) => {
    const u = Math.cos((Math.PI * (j + 0.5)) / nodes);
    return magnitude(Math.acos(middle + half * u) / (2 * Math.PI));
  });
  const series = cosineSeries(values);
  // The same polynomial, sampled over the whole circle: its cosine series in w are the taps.
  const points = 2 * nodes;
  const circle = Float64Array.from({ length: points }, (_, j) =>
    chebyshevSum(series, (Math.cos((Math.PI * (j + 0.5)) / points) - middle) / half),
  );
  const taps = cosineSeries(circle).subarray(0, nodes).slice();
  for (let k = 1; k < nodes; k += 1) taps[k]! /= 2;
  return taps;
}

/** Coefficients `c` with `sum of c[k] cos(k w)` through the values at `w = pi (j + 1/2) / count`. */
function cosineSeries(values: Float64Array): Float64Array {
  const count = values.length;
  const series = new Float64Array(count);
  for (let k = 0; k < count; k += 1) {
    let sum = 0;
    for (let j = 0; j < count; j += 1) sum += values[j]! * Math.cos((Math.PI * k * (j + 0.5)) / count);
    series[k] = ((k === 0 ? 1 : 2) * sum) / count;
  }
  return series;
}

/** C. W. Clenshaw's recurrence; good outside [-1, 1] too. */
function chebyshevSum(series: Float64Array, u: number): number {
  let next = 0;
  let afterNext = 0;
  for (let k = series.length - 1; k > 0; k -= 1) {
    const here = series[k]! + 2 * u * next - afterNext;
    afterNext = next;
    next = here;
  }
  return series[0]! + u * next - afterNext;
}
