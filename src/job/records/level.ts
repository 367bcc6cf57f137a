import { z } from 'zod';
import { identifier, positive } from '../figures.ts';
import { finding } from './finding.ts';

const channelLevel = z.strictObject({
  channelId: identifier,
  levelDbfs: z
    .number()
    .nullable()
    .describe('Averaged over the places by energy; null where volts were typed'),
  volts: positive.nullable(),
  uncertaintyDb: z
    .number()
    .nonnegative()
    .describe('Standard uncertainty (k = 1) against another channel at the same input'),
  spreadDb: z.number().nonnegative().nullable().describe('Highest against lowest place'),
  places: z.array(z.strictObject({ placeId: identifier, levelDbfs: z.number() })).describe('Empty by wire'),
  roomDb: z.number().nullable().describe('What its gain record leaves below its ceiling; null without one'),
  trimDb: z.number().describe('To be turned up (positive) or down, so that its pair is alike'),
});

const pairDifference = z.strictObject({
  leftId: identifier,
  rightId: identifier,
  differenceDb: z.number().describe('Left against right'),
  uncertaintyDb: z.number().nonnegative().describe('Standard uncertainty (k = 1)'),
  inside: z.boolean(),
});

export const levelResult = z.strictObject({
  way: z.enum(['wire', 'microphone']),
  weighting: z.enum(['A', 'C', 'Z']).nullable().describe('Null by wire'),
  microphoneFile: z
    .string()
    .optional()
    .describe("Name of the microphone's calibration file that was applied; left out where none was"),
  toleranceDb: positive,
  channels: z.array(channelLevel).min(1),
  pairs: z.array(pairDifference),
  worstDifferenceDb: z.number().nullable().describe('Of the pair that differs most; null without a pair'),
  inside: z.boolean().nullable().describe('Null where there is no pair to judge'),
  findings: z.array(finding),
});
