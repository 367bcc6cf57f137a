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

const burstReading = z.strictObject({
  toneDbfs: z.number(),
  volts: positive,
  levelDbfs: z.number(),
  kneeVolts: positive.nullable(),
  strayDb: z.number().describe('Rise over the reduced tone less the rise asked for'),
  thdPercent: z.number().nonnegative().nullable(),
  verdict,
  overdriveDb: z.number().nullable(),
  seconds: z.number().nonnegative().describe('How long the tone was asked for'),
});

const burstConclusion = z.discriminatedUnion('verdict', [
  z.strictObject({
    verdict: z.literal('clean'),
    cleanVolts: positive,
    marginDb: z.number().describe('Highest clean burst against the target: at least so much room'),
  }),
  z.strictObject({
    verdict: z.literal('clipped'),
    kneeVolts: positive,
    marginDb: z.number().describe('Knee against the target'),
    turnBackDb: z.number().nonnegative(),
  }),
  z.strictObject({ verdict: z.literal('undecided'), why: z.string() }),
]);

const clippingStage = z.strictObject({
  stage: z.enum(['amplifier', 'upstream', 'radio', 'converter', 'input', 'none']),
  confidence: z.number().min(0).max(1),
  evidence: z.string(),
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
  overlapDb: z
    .number()
    .nonnegative()
    .nullable()
    .describe('A tone at minus this level reaches the target; null in records of version 1'),
  bursts: z
    .strictObject({ readings: z.array(burstReading), conclusion: burstConclusion })
    .nullable()
    .describe('What short bursts at full level showed of a gain set at a reduced one; null without them'),
  clippingStage: clippingStage
    .nullable()
    .describe('Which stage two readings named in this turn; null where they were not taken'),
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
