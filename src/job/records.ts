/**
 * What is recorded when a reading is accepted, and under which conditions. A
 * record is never changed and never replaced: a new one stands beside it.
 */
import { z } from 'zod';
import { identifier, positive, when } from './figures.ts';

const calibrationStamp = z.strictObject({
  id: z.string(),
  voltsPerFs: positive.describe('Volts RMS at the measured point of a full-scale sine at the input'),
  uncertaintyDb: z.number().nonnegative().describe('Relative standard uncertainty (k = 1)'),
  deviceLabel: z.string(),
  at: when,
  basis: z.enum(['multimeter', 'divider', 'assumed', 'practice-rig']),
});

const conditions = z.strictObject({
  supplyVolts: positive.nullable(),
  engineRunning: z.boolean().nullable(),
  loaded: z.boolean().nullable().describe('Whether the drivers were connected'),
  volumeStep: z.int().nonnegative().nullable(),
  calibration: calibrationStamp.nullable(),
  input: z.string().nullable().describe('What the reading was taken with'),
  note: z.string(),
});

const grade = z.enum(['valid', 'suspect', 'invalid']);
const verdict = z.enum(['clean', 'clipped', 'input-overload', 'undecided']);

const knee = z.strictObject({
  volts: positive.nullable(),
  levelDbfs: z.number(),
  uncertaintyDb: z.number().nonnegative().describe('Standard uncertainty (k = 1)'),
  from: z.enum(['overdrive', 'trace']),
  crossCheckDb: z.number().nullable().describe('What the other way of finding it says, relative to this one'),
  disputed: z.boolean().describe('True where the two ways disagree beyond their uncertainties'),
});

const gainResult = z.strictObject({
  channelId: identifier,
  way: z.enum(['wire', 'meter']),
  volts: positive,
  voltsUncertainty: z.number().nonnegative().nullable().describe('Standard uncertainty (k = 1)'),
  aimVolts: positive.describe("What was aimed at; lower than the plan's where the knee stood in the way"),
  limitedByKnee: z.boolean(),
  targetVolts: positive,
  errorDb: z.number(),
  toleranceDb: positive,
  inside: z.boolean(),
  toneHz: positive,
  toneDbfs: z.number(),
  thdPercent: z.number().nonnegative().nullable(),
  clippingVerdict: verdict.nullable(),
  grade: grade.nullable(),
  doubts: z.array(z.string()),
  knee: knee.nullable(),
  marginDb: z.number().nullable().describe('Knee against full target; null where no knee was seen'),
  trace: z.array(
    z.strictObject({
      turn: z.int().nonnegative(),
      volts: positive.nullable(),
      levelDbfs: z.number(),
      thdPercent: z.number().nonnegative(),
      verdict,
    }),
  ),
});

export const record = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('gain'),
    id: z.string().min(1),
    at: when,
    conditions,
    result: gainResult,
  }),
]);

export type JobRecord = z.infer<typeof record>;
export type Conditions = z.infer<typeof conditions>;
export type CalibrationStamp = z.infer<typeof calibrationStamp>;
