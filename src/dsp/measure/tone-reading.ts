import { distortionFigures } from '../distortion/distortion-figures.ts';
import type { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import { cramerRao, type FittedTone, type ToneBound } from '../fit/tone-fit.ts';
import { wrappedPhase } from '../fit/wrapped-phase.ts';
import type { Band, ToneReading } from '../reading.ts';
import { distortionUncertainty } from '../uncertainty/distortion-uncertainty.ts';

/** Decibels for a small relative change of amplitude. */
const DB_PER_RELATIVE = 20 / Math.LN10;

/**
 * Puts fit and spectrum together. Noise beside the fundamental stands for white noise in the
 * uncertainties (Cramer-Rao: the fit reaches it).
 *
 * @param amplitude of the fundamental, peak: the fit's own unless there is better
 * @param ownBound of the fit that made the tone, where it knows better than the closed form for many cycles
 */
export function toneReading(
  tone: FittedTone,
  amplitude: number,
  spectrum: SegmentSpectrum,
  sampleRateHz: number,
  band: Band,
  ownBound: ToneBound | null = null,
): ToneReading {
  const hzPerRadian = sampleRateHz / (2 * Math.PI);
  const figures = distortionFigures(spectrum.view, spectrum.noise, amplitude, band);
  const bound = ownBound ?? cramerRao(amplitude, spectrum.noise.besideHarmonic(1), tone.frames);
  const factor = spectrum.noise.besideUncertaintyFactor();
  // A bound of the fit's own rests on the whole residual, which is known from far more than the bins beside the tone.
  const ofBound = ownBound === null ? factor : 1;
  const relativeAmplitude = ofBound * bound.relativeAmplitude;
  const atFirst = Math.atan2(tone.im, tone.re) - tone.angularFrequency * ((tone.frames - 1) / 2);
  return {
    frequencyHz: tone.angularFrequency * hzPerRadian,
    levelDbfs: 20 * Math.log10(amplitude),
    phaseRadians: wrappedPhase(atFirst),
    ...figures,
    uncertainty: {
      levelDb: DB_PER_RELATIVE * relativeAmplitude,
      frequencyHz: ofBound * bound.angularFrequency * hzPerRadian,
      ...distortionUncertainty(spectrum.view, figures, amplitude, band, {
        relativeAmplitude,
        sigmaFactor: factor,
        relativeNoise: spectrum.noise.relativeUncertaintyInBand(band, sampleRateHz),
      }),
    },
  };
}
