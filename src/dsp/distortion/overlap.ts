/**
 * Variance of a mean over overlapping windowed segments of white noise, against that of one segment:
 * 1 for one segment, near 1/segments where they hardly overlap (P. Welch, IEEE Trans. AU-15(2) 1967).
 */
export function overlapVariance(window: Float64Array, hopFrames: number, segments: number): number {
  if (segments === 1) return 1;
  let own = 0;
  for (const value of window) own += value * value;
  let sum = segments;
  for (let apart = 1; apart < segments && apart * hopFrames < window.length; apart += 1) {
    let shared = 0;
    for (let n = apart * hopFrames; n < window.length; n += 1) {
      shared += window[n]! * window[n - apart * hopFrames]!;
    }
    sum += (2 * (segments - apart) * shared) / own;
  }
  return sum / (segments * segments);
}
