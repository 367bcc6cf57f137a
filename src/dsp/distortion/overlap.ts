/**
 * Variance of a mean over overlapping windowed segments of white noise, against that of one segment:
 * 1 for one segment, near 1/segments where they hardly overlap (P. Welch, IEEE Trans. AU-15(2) 1967).
 */
export function overlapVariance(window: Float64Array, hopFrames: number, segments: number): number {
  if (segments === 1) return 1;
  let own = 0;
  for (let n = 0; n < window.length; n += 1) own += window[n]! * window[n]!;
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

export interface OverlapPower {
  /** Variance of the mean of one bin's power over segments of white noise, against its mean squared. 1 for one segment. */
  ofBin: number;
  /** Half the variance of the whole mean square, against the mean squared: 1 over the frames the segments are worth. */
  ofTotal: number;
}

/**
 * How far power spectra of white noise, averaged over overlapping windowed segments, scatter (Welch
 * 1967; the total by Parseval: each sample counts with the sum of the squared windows that cover it).
 */
export function overlapPower(window: Float64Array, hopFrames: number, segments: number): OverlapPower {
  let squares = 0;
  let fourths = 0;
  for (let n = 0; n < window.length; n += 1) {
    const square = window[n]! * window[n]!;
    squares += square;
    fourths += square * square;
  }
  let bin = segments;
  let total = segments * fourths;
  for (let apart = 1; apart < segments && apart * hopFrames < window.length; apart += 1) {
    let shared = 0;
    let sharedSquares = 0;
    for (let n = apart * hopFrames; n < window.length; n += 1) {
      const product = window[n]! * window[n - apart * hopFrames]!;
      shared += product;
      sharedSquares += product * product;
    }
    bin += 2 * (segments - apart) * (shared / squares) ** 2;
    total += 2 * (segments - apart) * sharedSquares;
  }
  return { ofBin: bin / segments ** 2, ofTotal: total / (segments * squares) ** 2 };
}
