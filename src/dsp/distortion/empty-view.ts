import type { HarmonicView } from '../clipping/harmonic-view.ts';

/** @param most how many harmonics there is room for */
export function emptyView(sampleRateHz: number, most: number): HarmonicView {
  return {
    sampleRateHz,
    frequencyHz: 0,
    amplitude: 0,
    dc: 0,
    count: 0,
    cosine: new Float64Array(most),
    sine: new Float64Array(most),
    sigma: new Float64Array(most),
    noiseRms: 0,
  };
}
