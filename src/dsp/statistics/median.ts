/** Middle value, the mean of the two middle ones where their number is even; the values stay as they are. NaN for none. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? Number.NaN) + upper) / 2;
}

/** A normal scatter's standard deviation, from the median distance of its values. */
export const NORMAL_PER_MEDIAN = 1.4826;

/** Standard deviation as the median distance from the median tells it. NaN for no values. */
export function robustSpread(values: ArrayLike<number>): number {
  const middle = median(values);
  return NORMAL_PER_MEDIAN * median(Float64Array.from(values, (value) => Math.abs(value - middle)));
}
