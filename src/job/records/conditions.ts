/** Under which conditions a reading was accepted. */
import { z } from 'zod';
import { positive, when } from '../figures.ts';

const calibrationStamp = z.strictObject({
  id: z.string(),
  voltsPerFs: positive.describe('Volts RMS at the measured point of a full-scale sine at the input'),
  uncertaintyDb: z.number().nonnegative().describe('Relative standard uncertainty (k = 1)'),
  deviceLabel: z.string(),
  at: when,
  basis: z.enum(['multimeter', 'divider', 'assumed', 'practice-rig']),
});

export const conditions = z.strictObject({
  supplyVolts: positive.nullable(),
  engineRunning: z.boolean().nullable(),
  loaded: z.boolean().nullable().describe('Whether the drivers were connected'),
  volumeStep: z.int().nonnegative().nullable(),
  calibration: calibrationStamp.nullable(),
  input: z.string().nullable().describe('What the reading was taken with'),
  note: z.string(),
});

export type Conditions = z.infer<typeof conditions>;
export type CalibrationStamp = z.infer<typeof calibrationStamp>;
