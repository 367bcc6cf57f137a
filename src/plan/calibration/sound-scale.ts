import { notNegative, PlanRefused, positive } from '../refused.ts';
import { combined, rectangular } from './gum.ts';
import { type MicrophoneCurve, microphoneCorrectionDb } from './microphone-curve.ts';

/** An acoustic calibrator: a small source of known sound pressure that sits on the microphone (IEC 60942). */
export interface SoundCalibrator {
  /** Sound pressure level in its coupler, dB against 20 micropascals: 94 is 1.0024 Pa (references, item 15). */
  levelDb: number;
  frequencyHz: number;
  /** Its level is known to plus or minus so much. */
  withinDb: number;
}

/**
 * What a calibrator without a certificate at hand may be off by. From memory of IEC 60942:2003, uncertainty included,
 * and unconfirmed (references, item 15): its certificate knows better.
 */
export const CALIBRATOR_CLASSES = [
  { id: 'class-1', name: 'Class 1', withinDb: 0.4 },
  { id: 'class-2', name: 'Class 2', withinDb: 0.75 },
] as const;

/** How alike a microphone sits in the coupler each time: standard uncertainty of one placement, dB (common practice). */
const SEATING_DB = 0.1;

/** What sound pressure a full-scale sine at the input is. */
export interface SoundScale {
  splAtFullScaleDb: number;
  /** Standard uncertainty (k = 1), dB. */
  uncertaintyDb: number;
  calibrator: SoundCalibrator;
  /** How often the calibrator was put on. */
  placements: number;
}

/** Level of the calibrator's tone, once for each time that it was put on. */
export interface PlacementLevel {
  levelDbfs: number;
  uncertaintyDb: number;
}

/**
 * splAtFullScale = calibrator's level - mean of the levels read. Uncertainties after the GUM (JCGM 100 5.1.2): the
 * calibrator's limits taken as rectangular, the seating's share falling with the number of placements but never below
 * what they differ by.
 *
 * @throws PlanRefused without a placement, for a level that is no number or above 0 dBFS, and for a calibrator that is none
 */
export function soundScale(calibrator: SoundCalibrator, levels: readonly PlacementLevel[]): SoundScale {
  if (levels.length === 0) {
    throw new PlanRefused(
      'No level was read; put the calibrator on the microphone and measure once at least.',
    );
  }
  const over = levels.find(({ levelDbfs }) => !Number.isFinite(levelDbfs) || levelDbfs > 0);
  if (over !== undefined) {
    throw new PlanRefused(
      `The input reads ${over.levelDbfs} dBFS; the calibrator's tone must read below 0 dBFS.`,
    );
  }
  positive(calibrator.levelDb, "The calibrator's level, in dB SPL,");
  positive(calibrator.frequencyHz, "The calibrator's frequency, in Hz,");
  const withinDb = notNegative(calibrator.withinDb, "The calibrator's limit, in dB,");
  const mean = levels.reduce((sum, { levelDbfs }) => sum + levelDbfs, 0) / levels.length;
  return {
    splAtFullScaleDb: calibrator.levelDb - mean,
    uncertaintyDb: combined([
      rectangular(withinDb),
      Math.max(SEATING_DB / Math.sqrt(levels.length), deviationOfMean(levels, mean)),
      combined(levels.map(({ uncertaintyDb }) => uncertaintyDb)) / levels.length,
    ]),
    calibrator,
    placements: levels.length,
  };
}

/** Experimental standard deviation of the mean (JCGM 100 4.2.3); 0 for a single one. */
function deviationOfMean(levels: readonly PlacementLevel[], mean: number): number {
  const count = levels.length;
  if (count < 2) return 0;
  const squares = levels.reduce((sum, { levelDbfs }) => sum + (levelDbfs - mean) ** 2, 0);
  return Math.sqrt(squares / (count * (count - 1)));
}

/**
 * Sound pressure level of a level at the input. A tone's is freed of what the microphone deviates by there, against what
 * it deviates by at the calibrator's frequency, which is in the scale already; where the curve does not reach, it is not.
 *
 * @param toneHz `null` for a sound that is no tone
 */
export function soundLevelDb(
  levelDbfs: number,
  toneHz: number | null,
  { splAtFullScaleDb, calibrator }: SoundScale,
  curve: MicrophoneCurve | null,
): number {
  const flat = levelDbfs + splAtFullScaleDb;
  if (curve === null || toneHz === null) return flat;
  const there = microphoneCorrectionDb(curve, toneHz);
  const atCalibrator = microphoneCorrectionDb(curve, calibrator.frequencyHz);
  return there === null || atCalibrator === null ? flat : flat + there - atCalibrator;
}
