import { z } from 'zod';
import { identifier, positive } from '../figures.ts';
import { finding } from './finding.ts';

const engine = z.enum(['off', 'idle', 'revved']);
const level = z.number().nullable().describe('Against a full-scale sine; null for digital silence');
const wayIn = z
  .enum(['amplifier-supply', 'signal-lead', 'both', 'not-told'])
  .describe('Where it gets in, as far as pulling the signal lead told');
const lossUnpluggedDb = z
  .number()
  .nullable()
  .describe('What pulling the signal lead took away; null where it was not tried');

const octave = z.strictObject({
  nominalHz: positive,
  levelDbfs: level,
  floorDbfs: level.describe('Lines taken out'),
  uncertaintyDb: z.number().nonnegative().describe('Standard uncertainty by the length of the record'),
});

const stateResult = z.strictObject({
  engine,
  rpm: positive.nullable().describe('By the rev counter; null where nobody typed it'),
  seconds: positive,
  levelDbfs: level,
  levelDbv: z.number().nullable(),
  floorDbfs: level.describe('Lines taken out'),
  aWeightedDbfs: level,
  aWeightedDbv: z.number().nullable(),
  octaves: z.array(octave),
  clicks: z.int().nonnegative(),
  dropouts: z.int().nonnegative(),
  grade: z.enum(['valid', 'suspect', 'invalid']),
  doubts: z.array(z.string()),
});

const rise = z.strictObject({
  engine,
  octaves: z.array(
    z.strictObject({ nominalHz: positive, riseDb: z.number(), uncertaintyDb: z.number().nonnegative() }),
  ),
});

const ripple = z.strictObject({
  idleHz: positive.nullable(),
  revvedHz: positive.nullable(),
  levelDbfs: z.number(),
  overFloorDb: z.number().describe('Against the third of an octave around it'),
  pitchRatio: positive.nullable().describe('Revved over idle'),
  rpmRatio: positive.nullable(),
  course: z.enum(['follows', 'moves', 'one-speed', 'unknown']),
  wayIn,
  lossUnpluggedDb,
});

const hum = z.strictObject({
  nominalHz: z.union([z.literal(50), z.literal(60)]),
  fundamentalHz: positive,
  uncertaintyHz: z.number().nonnegative().describe('Standard uncertainty (k = 1), the clock left out'),
  levelDbfs: z.number(),
  overFloorDb: z.number(),
  strongestOrder: z.int().positive(),
  heardIn: z.array(engine),
  wayIn,
  lossUnpluggedDb,
});

const steadyTone = z.strictObject({
  fundamentalHz: positive,
  levelDbfs: z.number(),
  overFloorDb: z.number(),
  heard: z.enum(['always', 'running']),
});

export const noiseResult = z.strictObject({
  channelId: identifier.nullable().describe('Channel whose terminals were read; null by microphone'),
  place: z.enum(['terminals', 'microphone']),
  targetVolts: positive.nullable(),
  states: z.array(stateResult).min(1),
  rises: z.array(rise).describe('Running against off'),
  worstEngine: engine,
  belowTargetDb: z.number().nullable().describe('Unweighted noise, lines and all, in the loudest state'),
  belowTargetUncertaintyDb: z.number().nonnegative().nullable().describe('Standard uncertainty (k = 1)'),
  toleranceDb: positive.describe('Least distance asked for'),
  inside: z.boolean().nullable().describe('Null where there are no volts or no target to judge by'),
  ripple: ripple.nullable(),
  hum: hum.nullable(),
  steadyTones: z.array(steadyTone),
  findings: z.array(finding),
});
