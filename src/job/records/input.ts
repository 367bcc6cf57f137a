import { z } from 'zod';
import { positive } from '../figures.ts';
import { finding } from './finding.ts';

export const inputResult = z.strictObject({
  way: z.enum(['wire', 'air']),
  verdict: z.enum(['honest', 'not-honest']),
  toneHz: positive,
  clockPpm: z.number().describe("Player's clock against the input's"),
  steps: z
    .array(
      z.strictObject({
        askedDbfs: z.number(),
        levelDbfs: z.number(),
        uncertaintyDb: z.number().nonnegative().describe('Standard uncertainty (k = 1) by the noise'),
        creepDb: z.number().describe('How far the level moved while it should have held still'),
      }),
    )
    .min(2),
  stepErrorsDb: z.array(z.number()).describe('Steps as read less steps as played'),
  noiseUnderToneDbfs: z.number().nullable(),
  noiseInPauseDbfs: z.number().nullable(),
  cutOffHz: positive.nullable().describe('Null where the noise reaches the top of the band'),
  doubts: z.array(z.string()),
  findings: z.array(finding),
});
