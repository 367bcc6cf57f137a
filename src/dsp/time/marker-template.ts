import { RealFft } from '../spectrum/real-fft.ts';
import { MARKER_HIGH_HZ, MARKER_LOW_HZ, type MarkerEnd, markerValue } from '../tones/marker.ts';

/** A recording's converter still passes everything up to here. */
const HIGHEST_SHARE_OF_RATE = 0.45;

/** Bins, of `sampleRateHz / length`, that hold the markers, the last included. */
export interface BinRange {
  first: number;
  last: number;
}

/** @param highestHz search no higher than this, where the path passes nothing above */
export function markerBand(sampleRateHz: number, highestHz: number): { lowHz: number; highHz: number } {
  return {
    lowHz: MARKER_LOW_HZ,
    highHz: Math.min(MARKER_HIGH_HZ, highestHz, HIGHEST_SHARE_OF_RATE * sampleRateHz),
  };
}

export function markerBins(sampleRateHz: number, length: number, highestHz: number): BinRange {
  const { lowHz, highHz } = markerBand(sampleRateHz, highestHz);
  return {
    first: Math.ceil((lowHz * length) / sampleRateHz),
    last: Math.floor((highHz * length) / sampleRateHz),
  };
}

/**
 * Conjugate spectrum of a marker that starts at frame 0, over `bins`, of energy 1: real and imaginary parts in
 * turn. Rates too low to hold the whole band get the part they can hold, without aliases.
 */
export function markerTemplate(
  end: MarkerEnd,
  sampleRateHz: number,
  length: number,
  bins: BinRange,
): Float64Array {
  // Twice the rate and twice the length keep the bins where they are and put the aliases above the band.
  let finer = 1;
  while (finer * sampleRateHz < 4 * MARKER_HIGH_HZ) finer *= 2;
  const fft = new RealFft(finer * length);
  for (let frame = 0; frame < fft.length; frame += 1) {
    fft.input[frame] = markerValue(end, frame / (finer * sampleRateHz));
  }
  fft.transform();
  const template = new Float64Array(2 * (bins.last - bins.first + 1));
  let energy = 0;
  for (let at = 0; at < template.length; at += 1) {
    template[at] = fft.spectrum[2 * bins.first + at]! * (at % 2 === 0 ? 1 : -1);
    energy += template[at]! ** 2;
  }
  for (let at = 0; at < template.length; at += 1) template[at]! /= Math.sqrt(energy);
  return template;
}
