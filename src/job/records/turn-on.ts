import { z } from 'zod';
import { positive } from '../figures.ts';
import { finding } from './finding.ts';
import { grade } from './measured.ts';

const seconds = z.number().nonnegative();
const lost = seconds.nullable().describe('What the start after it lost; null where no sound came back');

export const turnOnResult = z.strictObject({
  step: z.int().positive().describe('Volume step that it was tried at'),
  toneHz: positive,
  keepAliveHz: positive,
  toneDbfs: z.number().max(0),
  silences: z.array(z.strictObject({ seconds, lostSeconds: lost, slept: z.boolean() })).min(1),
  keepAlive: z.array(
    z.strictObject({
      levelDbfs: z.number().max(0),
      seconds,
      held: z.boolean(),
      lostSeconds: lost,
      goneAfterSeconds: seconds.nullable().describe('When the quiet tone itself was gone'),
    }),
  ),
  sleeps: z.boolean(),
  sleepsWithinSeconds: seconds.nullable().describe('Shortest silence after which a start was lost'),
  awakeForSeconds: seconds.nullable().describe('Longest silence after which nothing was lost'),
  holdingDbfs: z.number().nullable().describe('Lowest level tried that held it awake'),
  grade,
  doubts: z.array(z.string()),
  findings: z.array(finding),
});
