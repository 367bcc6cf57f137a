import { notNegative, PlanRefused, positive } from '../refused.ts';
import { relativeToDb } from '../units/ratio.ts';
import { combined } from './gum.ts';
import { type MeterAccuracy, meterRelativeUncertainty } from './meter.ts';

/** What one volt is on an input: a full-scale sine is `voltsPerFs` volts RMS at the measured point. */
export interface InputCalibration {
  voltsPerFs: number;
  /** Relative standard uncertainty (k = 1), dB. */
  uncertaintyDb: number;
  /** `assumed` where the input's full scale was not measured, however good the divider. */
  basis: 'multimeter' | 'divider' | 'assumed';
}

/** A steady tone, read by meter and by the input at once. */
export interface MeterComparison {
  meterVolts: number;
  meter: MeterAccuracy;
  /** Level of the tone's fundamental at the input. */
  levelDbfs: number;
  /** Standard uncertainty of that level, dB. */
  levelUncertaintyDb: number;
}

/**
 * voltsPerFs = meterVolts / 10^(levelDbfs / 20), whatever stands between the
 * meter's point and the input: a divider is part of it.
 * @throws PlanRefused for a reading not above 0 V, a level that is no number (silence) or above 0 dBFS (overload).
 */
export function calibrateByMeter(comparison: MeterComparison): InputCalibration {
  const { meterVolts, levelDbfs } = comparison;
  if (!Number.isFinite(levelDbfs) || levelDbfs > 0) {
    throw new PlanRefused(
      `The input reads ${levelDbfs} dBFS; calibrate with a tone that it reads below 0 dBFS.`,
    );
  }
  const meterUncertainty = meterRelativeUncertainty(meterVolts, comparison.meter);
  const levelUncertaintyDb = notNegative(comparison.levelUncertaintyDb, "The level's uncertainty, in dB,");
  return {
    voltsPerFs: meterVolts / 10 ** (levelDbfs / 20),
    uncertaintyDb: combined([relativeToDb(meterUncertainty), levelUncertaintyDb]),
    basis: 'multimeter',
  };
}

/** Volts RMS of a full-scale sine at the input's own terminals. */
export interface InputFullScale {
  volts: number;
  /** Standard uncertainty, dB. */
  uncertaintyDb: number;
  /** True where it was measured on this input, not taken from a sheet or a table. */
  measured: boolean;
}

/**
 * voltsPerFs = full scale of the input / ratio of the divider ahead of it.
 * @param divider ratio out/in (below 1), the input's load included, and its standard uncertainty;
 * `null` for a direct connection
 * @throws PlanRefused for figures not above 0, and for a ratio above 1.
 */
export function calibrateByDivider(
  fullScale: InputFullScale,
  divider: { ratio: number; uncertaintyDb: number } | null,
): InputCalibration {
  const ratio = positive(divider?.ratio ?? 1, "The divider's ratio");
  if (ratio > 1) throw new PlanRefused(`The divider's ratio is ${ratio}; out over in it is 1 at the most.`);
  return {
    voltsPerFs: positive(fullScale.volts, "The input's full scale, in volts,") / ratio,
    uncertaintyDb: combined([
      notNegative(fullScale.uncertaintyDb, "The full scale's uncertainty, in dB,"),
      notNegative(divider?.uncertaintyDb ?? 0, "The divider's uncertainty, in dB,"),
    ]),
    basis: fullScale.measured ? 'divider' : 'assumed',
  };
}
