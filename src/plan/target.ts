import { notNegative, PlanRefused, positive } from './refused.ts';
import { voltsToDbv } from './units/decibel-volts.ts';
import { sineRmsToPeak } from './units/peak.ts';
import { wattsToVolts } from './units/power.ts';
import { dbToRatio } from './units/ratio.ts';

/** One target, volts RMS unless the name says otherwise. */
export interface Target {
  targetVolts: number;
  targetPeakVolts: number;
  targetDbv: number;
  overlapDb: number;
  /** Level of the setting tone, 0 or below. */
  toneDbfs: number;
  /** What that tone must read once the gain is right. */
  toneVolts: number;
}

/**
 * Target voltage of a clean power into a load: V = sqrt(P R), and what a tone
 * at `toneDbfs` must read there: V * 10^((overlapDb + toneDbfs) / 20), since a
 * tone at minus the overlap is the one that reaches the target.
 *
 * The load is taken as given: 1.33 means 1.33 here (see `statedOhms` for data sheets).
 * @throws PlanRefused for watts or ohms not above 0, a negative overlap, a tone above full scale, NaN anywhere.
 */
export function planTarget(given: {
  watts: number;
  ohms: number;
  overlapDb?: number;
  toneDbfs?: number;
}): Target {
  const watts = positive(given.watts, 'The power, in watts,');
  const ohms = positive(given.ohms, 'The load, in ohms,');
  const overlapDb = notNegative(given.overlapDb ?? 0, 'The overlap, in dB,');
  const toneDbfs = toneLevel(given.toneDbfs ?? 0);
  const targetVolts = wattsToVolts(watts, ohms);
  return {
    targetVolts,
    targetPeakVolts: sineRmsToPeak(targetVolts),
    targetDbv: voltsToDbv(targetVolts),
    overlapDb,
    toneDbfs,
    toneVolts: targetVolts * dbToRatio(overlapDb + toneDbfs),
  };
}

/** @throws PlanRefused for a level above full scale, or no number. */
export function toneLevel(toneDbfs: number): number {
  if (Number.isFinite(toneDbfs) && toneDbfs <= 0) return toneDbfs;
  throw new PlanRefused(`The tone's level is ${toneDbfs} dBFS; a tone can be played at 0 dBFS or below.`);
}

/**
 * How low a tone reads where only some of the summed inputs carry it:
 * 20 lg(carrying / inputs), 0 or below; -6.02 dB for one of two.
 * The same tone on several inputs adds as voltage, not as power.
 * @throws PlanRefused unless 1 <= carrying <= inputs, both whole.
 */
export function summingLossDb(inputs: number, carrying: number): number {
  const whole = Number.isInteger(inputs) && Number.isInteger(carrying);
  if (!whole || carrying < 1 || carrying > inputs) {
    throw new PlanRefused(
      `${carrying} of ${inputs} summed inputs carry the tone; it must be a whole number from 1 to the number of inputs.`,
    );
  }
  return 20 * Math.log10(carrying / inputs);
}
