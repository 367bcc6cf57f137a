import { z } from 'zod';
import { finding } from './finding.ts';
import { grade, sourcePoint, tone } from './measured.ts';

const heardAt = z.strictObject({ left: z.number().nullable(), right: z.number().nullable() });

export const sidesResult = z.strictObject({
  point: sourcePoint,
  input: z.enum(['one-channel', 'two-channel']),
  tone,
  heardDbfs: z
    .strictObject({ left: heardAt, right: heardAt })
    .describe('By the side played, then by the side heard; null where no tone stood out'),
  verdict: z.enum(['right', 'swapped', 'mono', 'leaks', 'dead']),
  separationDb: z.number().nullable().describe('The worse way; null where nothing got across'),
  separationAtLeastDb: z
    .number()
    .nullable()
    .describe('As far as the noise lets it be told where nothing got across'),
  balanceDb: z.number().nullable().describe('Left against right, each at its own side'),
  grade,
  doubts: z.array(z.string()),
  findings: z.array(finding),
});
