import { z } from 'zod';
import { identifier, positive } from '../figures.ts';

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

export const gainResult = z.strictObject({
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
