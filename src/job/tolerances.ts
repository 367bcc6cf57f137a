/** How far a reading may lie off before it counts as out of tolerance. Each default says why it is what it is. */
import { z } from 'zod';
import { positive } from './figures.ts';

export const tolerances = z
  .strictObject({
    cornerPercent: positive.describe('Corner of a filter against the wanted one'),
    balanceDb: positive.describe('One channel against its partner on the other side'),
    arrivalMs: positive.describe('Arrival of one channel against the others, after its delay'),
    noiseDb: positive.describe('Least distance of the noise floor below the target level'),
    groundVolts: positive.describe('Drop on the ground leg under load'),
    supplyDropVolts: positive.describe('Drop on both wires of an amplifier’s supply at a full sine'),
  })
  .describe('What this job accepts');

type JobTolerances = z.infer<typeof tolerances>;

export const DEFAULT_TOLERANCES: JobTolerances = {
  cornerPercent: 10,
  balanceDb: 0.5,
  arrivalMs: 0.1,
  noiseDb: 70,
  groundVolts: 0.1,
  supplyDropVolts: 0.5,
};

/** The most that still means anything, for whoever types a figure. */
export const MOST_TOLERATED: JobTolerances = {
  cornerPercent: 50,
  balanceDb: 6,
  arrivalMs: 10,
  noiseDb: 140,
  groundVolts: 2,
  supplyDropVolts: 4,
};

/** For the person at the screen and for the report. Common practice where no source is named. */
export const TOLERANCE_REASONS: Record<keyof JobTolerances, string> = {
  cornerPercent:
    'Printed dials are about this coarse; a fourth-order filter a tenth off changes its neighbour’s sum by about a decibel (common practice).',
  balanceDb:
    'A level difference between the sides smaller than this is at the edge of being heard (common practice).',
  arrivalMs: 'A tenth of a millisecond is 3.4 cm of air, less than a head moves (common practice).',
  noiseDb: 'Noise this far below the target is not heard at rest in a closed vehicle (common practice).',
  groundVolts:
    'A tenth of a volt on the ground leg under load is what its wire and joints may cost (common practice).',
  supplyDropVolts:
    'Half a volt of 14.4 V lowers the ceiling of an unregulated amplifier by 0.3 dB (20 lg 13.9/14.4; what is allowed is common practice).',
};
