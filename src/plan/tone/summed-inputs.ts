import { summingLossDb } from '../target.ts';
import { dbToRatio } from '../units/ratio.ts';

/** What a channel fed from a sum reads where only some of its inputs carry the tone. */
export interface PartialTone {
  /** How many inputs carry it. */
  carrying: number;
  /** Against all of them, 0 or below. */
  lossDb: number;
  /** `null` where the channel has no target. */
  toneVolts: number | null;
}

/**
 * The readings with one input less than all, and so on down to one: 20 lg(carrying / inputs), see `summingLossDb`.
 * Empty where nothing is summed.
 *
 * @param toneVolts reading with the tone on all of them
 * @throws PlanRefused unless `inputs` is a whole number from 1 up
 */
export function partialTones(inputs: number, toneVolts: number | null): PartialTone[] {
  summingLossDb(inputs, inputs);
  return Array.from({ length: inputs - 1 }, (_, index) => {
    const carrying = inputs - 1 - index;
    const lossDb = summingLossDb(inputs, carrying);
    return { carrying, lossDb, toneVolts: toneVolts === null ? null : toneVolts * dbToRatio(lossDb) };
  });
}
