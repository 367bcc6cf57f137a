import { MarkerFinder, type MarkerFinding } from '../../src/dsp/time/marker-finder.ts';
import { MARKER_SECONDS, type MarkerEnd, markerValue } from '../../src/dsp/tones/marker.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export interface PlacedMarkers {
  sampleRateHz: number;
  frames: number;
  /** Where each marker starts, in frames, any fraction. */
  markers: readonly { end: MarkerEnd; frame: number }[];
  /** Recorder's clock against the player's: the markers are stretched by it. */
  skewPpm?: number;
  /** Of white noise; markers have a peak of 0.5, 0.354 RMS. */
  noiseRms?: number;
  seed?: number;
}

/** A recording of markers, computed from their closed form at any fraction of a frame. */
export function recordingOf(recipe: PlacedMarkers): Float64Array {
  const { sampleRateHz, frames, markers, skewPpm = 0, noiseRms = 0, seed = 1 } = recipe;
  const gauss = seededGauss(seededUniform(seed));
  const ownRateHz = sampleRateHz * (1 + skewPpm * 1e-6);
  return Float64Array.from({ length: frames }, (_, at) => {
    let sum = noiseRms > 0 ? noiseRms * gauss() : 0;
    for (const { end, frame } of markers) sum += 0.5 * markerValue(end, (at - frame) / ownRateHz);
    return sum;
  });
}

/** Noise, over the whole band of the rate, that is as strong as the markers within their band of 5.4 kHz, less `snrDb`. */
export function noiseForInBandSnr(snrDb: number, sampleRateHz: number): number {
  return 0.5 * Math.SQRT1_2 * 10 ** (-snrDb / 20) * Math.sqrt(sampleRateHz / 2 / 5400);
}

/** Findings, with the frame at which each marker would start if the clocks were alike. */
export function findMarkers(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  highestHz?: number,
): (MarkerFinding & { frame: number })[] {
  const finder = new MarkerFinder(sampleRateHz, highestHz);
  finder.push(samples, samples.length);
  return finder.finish().map((finding) => ({
    ...finding,
    frame: finding.middleFrame - (MARKER_SECONDS / 2) * sampleRateHz,
  }));
}
