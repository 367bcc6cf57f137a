import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { DUST, dbFromPower } from '../level/decibels.ts';
import type { Band } from '../reading.ts';
import type { NoiseDensity } from './noise-density.ts';

/** How many harmonics a reading lists at most, from the 2nd up. */
const HARMONICS_LISTED = 10;

/**
 * A harmonic that falls on the band's edge belongs to it: the frequency is measured, and 20 times
 * 1000.001 Hz must not drop out of 20 kHz.
 */
const EDGE = 1e-4;

export interface DistortionFigures {
  thdPercent: number;
  thdPlusNoisePercent: number;
  sinadDb: number;
  noiseDbfs: number;
  harmonicsDbc: number[];
}

/** Whether a harmonic counts in a band. */
export function isInBand(frequencyHz: number, band: Band): boolean {
  return frequencyHz >= band.lowHz * (1 - EDGE) && frequencyHz <= band.highHz * (1 + EDGE);
}

/**
 * Distortion of a tone over a band.
 *
 * THD is the F form over every harmonic inside the band; THD+N (AES17-2015 6.3.1) is all but the
 * fundamental over the total, the fundamental counting wherever it lies. The power that noise alone
 * would leave at the harmonics is taken off. What is left is never less than noise could hide: a
 * harmonic that does not rise above its noise is listed at that noise, and THD is at least the standard
 * deviation of the noise's own sum. Every figure is finite.
 *
 * @param amplitude of the fundamental, peak
 */
export function distortionFigures(
  view: HarmonicView,
  noise: NoiseDensity,
  amplitude: number,
  band: Band,
): DistortionFigures {
  const carrier = amplitude * amplitude;
  let sum = 0;
  let spread = 0;
  const harmonicsDbc: number[] = [];
  for (let held = 0; held < view.count; held += 1) {
    const frequency = (held + 2) * view.frequencyHz;
    if (frequency > band.highHz * (1 + EDGE)) break;
    const noisePower = 2 * view.sigma[held]! ** 2;
    const power = view.cosine[held]! ** 2 + view.sine[held]! ** 2 - noisePower;
    if (held < HARMONICS_LISTED) harmonicsDbc.push(dbFromPower(Math.max(power, noisePower) / carrier));
    if (!isInBand(frequency, band)) continue;
    sum += power;
    spread += noisePower * noisePower;
  }
  const distortion = Math.max(sum, Math.sqrt(spread), DUST * carrier);
  const noiseMeanSquare = Math.max(noise.inBand(band, view.sampleRateHz), (DUST * carrier) / 2);
  const rest = distortion / 2 + noiseMeanSquare;
  const thdPlusNoise = Math.sqrt(rest / (carrier / 2 + rest));
  return {
    thdPercent: 100 * Math.sqrt(distortion / carrier),
    thdPlusNoisePercent: 100 * thdPlusNoise,
    sinadDb: -20 * Math.log10(thdPlusNoise),
    noiseDbfs: dbFromPower(2 * noiseMeanSquare),
    harmonicsDbc,
  };
}
