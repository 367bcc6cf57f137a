import { z } from 'zod';
import { positive } from '../figures.ts';
import { finding } from './finding.ts';
import { grade, side, sourcePoint, threeTones, verdict } from './measured.ts';

const volumeStep = z.int().positive();

const stepHeard = z.strictObject({
  step: volumeStep,
  levelDbfs: z.number().describe('Of the middle tone'),
  volts: positive.nullable(),
  thdPercent: z.number().nonnegative(),
  verdict,
  overdriveDb: z.number().nullable(),
  bassDb: z.number().nullable().describe('Bass against the middle, what was played taken out'),
  trebleDb: z.number().nullable(),
  bassVerdict: verdict.nullable(),
});

export const sourceResult = z.strictObject({
  point: sourcePoint,
  side,
  volumeSteps: volumeStep,
  tones: threeTones,
  steps: z.array(stepHeard).min(1),
  highestCleanStep: volumeStep,
  cleanToTop: z.boolean().describe('True where the top of the range is still clean'),
  ceilingDbfs: z.number(),
  ceilingVolts: positive.nullable().describe('Of the middle tone at the highest clean step, volts RMS'),
  ceilingVoltsUncertainty: z.number().nonnegative().nullable().describe('Standard uncertainty (k = 1)'),
  kneeVolts: positive.nullable().describe('Largest clean sine that the lowest clipped step tells of'),
  clippedTone: z.enum(['middle', 'bass']).nullable().describe('Which tone clips first'),
  bassCutFromStep: volumeStep.nullable(),
  bassCutAtCeilingDb: z.number().nullable().describe('Missing bass at the highest clean step'),
  limitsFromStep: volumeStep.nullable().describe('Where the level is held back without clipping'),
  grade,
  doubts: z.array(z.string()),
  findings: z.array(finding),
});
