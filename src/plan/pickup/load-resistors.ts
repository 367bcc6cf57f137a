import { positive } from '../refused.ts';

/** Resistors across the outputs of a source that has lost its speakers. */
export interface LoadResistors {
  ohms: number;
  /** What one is rated for. */
  watts: number;
}

/**
 * Room left in a resistor's rating: a tone clipped to a square wave has twice a sine's power at the same peak,
 * and a resistor at its full rating is too hot for a dashboard (common practice).
 */
export const RATING_ROOM = 2;

/**
 * Heat in one resistor at this voltage: P = V^2 / R.
 * @throws PlanRefused unless both are above 0
 */
export function resistorHeatWatts(volts: number, ohms: number): number {
  return positive(volts, "The source's highest voltage") ** 2 / positive(ohms, 'A load resistor, in ohms,');
}
