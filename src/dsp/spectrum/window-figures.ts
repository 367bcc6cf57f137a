export interface WindowFigures {
  /** Mean of the window: what a bin-centred line's amplitude is multiplied by. */
  coherentGain: number;
  /** Width of the rectangular filter that passes the same white noise, bins (ENBW). */
  noiseBandwidthBins: number;
}

/** Harris 1978, equations 11 and 15, from the samples themselves. */
export function windowFigures(window: Float64Array): WindowFigures {
  let sum = 0;
  let sumOfSquares = 0;
  for (const value of window) {
    sum += value;
    sumOfSquares += value * value;
  }
  return {
    coherentGain: sum / window.length,
    noiseBandwidthBins: (window.length * sumOfSquares) / (sum * sum),
  };
}
