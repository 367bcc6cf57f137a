import type { Conditions } from '../records.ts';
import type { Circumstance } from './recorded-figure.ts';

/**
 * Supplies this near count as one: the ceiling of an unregulated amplifier follows its supply, and 0.3 V of 14 V
 * is 20 lg(14.3/14) = 0.18 dB, less than a reading leaves open.
 */
const SAME_SUPPLY_VOLTS = 0.3;

/** Words and whole numbers are alike or not. */
export function alike(what: string, value: Circumstance['value'], unit = '', within = 0): Circumstance {
  return { what, value, unit, within };
}

export function volumeStep({ volumeStep: step }: Conditions): Circumstance {
  return alike('the volume step', step);
}

export function loaded({ loaded: isLoaded }: Conditions): Circumstance {
  return alike('the load', isLoaded === null ? null : isLoaded ? 'connected' : 'unplugged');
}

export function supply({ supplyVolts }: Conditions): Circumstance {
  return alike('the supply', supplyVolts, 'V', SAME_SUPPLY_VOLTS);
}
