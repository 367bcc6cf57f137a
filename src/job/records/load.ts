import { z } from 'zod';
import { positive } from '../figures.ts';
import { finding } from './finding.ts';
import { grade, side, threeTones } from './measured.ts';

const heard = z.strictObject({
  levelDbfs: z.number().nullable().describe('Null where nothing was heard of it'),
  volts: positive.nullable(),
  thdPercent: z.number().nonnegative().nullable(),
});

const threeHeard = z.strictObject({ middle: heard, bass: heard, treble: heard });

export const loadResult = z.strictObject({
  side,
  step: z.int().positive(),
  tones: threeTones,
  connected: threeHeard.describe('With the load resistors'),
  off: threeHeard.describe('Without them'),
  change: z
    .strictObject({
      levelDb: z.number().nullable().describe('Of the middle tone; null where nothing is left of it'),
      bassDb: z.number().nullable().describe('Beyond what the middle changed'),
      trebleDb: z.number().nullable(),
    })
    .describe('Without them against with them'),
  sensesLoad: z.boolean(),
  grade,
  doubts: z.array(z.string()),
  findings: z.array(finding),
});
