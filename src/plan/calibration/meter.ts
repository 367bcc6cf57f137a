import { notNegative, PlanRefused, positive } from '../refused.ts';
import { rectangular } from './gum.ts';

/**
 * A multimeter's accuracy as its sheet gives it, "+-(1 % + 3 digits)", for AC
 * volts at the tone's frequency: outside the stated bandwidth it does not hold.
 */
export interface MeterAccuracy {
  percentOfReading: number;
  digits: number;
  /** One count of the last digit on the range in use: 0.01 V where the meter shows 12.34. */
  voltsPerDigit: number;
}

/**
 * Standard uncertainty (k = 1) of a reading, as a share of it (0.01 for 1 %).
 * Percentage and digits add up to one limit, taken as rectangular.
 * @throws PlanRefused for a reading not above 0 V, negative accuracy figures,
 * and a reading that its own limit swallows.
 */
export function meterRelativeUncertainty(readingVolts: number, accuracy: MeterAccuracy): number {
  positive(readingVolts, "The meter's reading, in volts,");
  const percent = notNegative(accuracy.percentOfReading, "The meter's accuracy, in per cent of reading,");
  const digits = notNegative(accuracy.digits, "The meter's accuracy, in digits,");
  const voltsPerDigit = positive(accuracy.voltsPerDigit, "The meter's last digit, in volts,");
  const limitVolts = (percent / 100) * readingVolts + digits * voltsPerDigit;
  if (limitVolts >= readingVolts) {
    throw new PlanRefused(
      `A reading of ${readingVolts} V is within the meter's own limit of ${Number(limitVolts.toPrecision(2))} V; raise the tone or take a lower range.`,
    );
  }
  return rectangular(limitVolts / readingVolts);
}
