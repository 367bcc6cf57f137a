import { z } from 'zod';
import { identifier, positive } from '../figures.ts';
import { finding } from './finding.ts';

const seconds = z.number();

const markers = z.strictObject({
  found: z.boolean(),
  startSeconds: seconds.nullable().describe('Where the track begins in the recording'),
  clockSkewPpm: z.number().nullable().describe("Recorder's clock against the player's"),
  clockSkewUncertaintyPpm: z.number().nonnegative().nullable(),
  startFound: z.boolean(),
  endFound: z.boolean(),
  skewFrom: z.enum(['markers', 'tones']).nullable(),
});

/** What a part's reading or its limits hold: figures by name, the unit in the name. */
const figures = z.record(z.string(), z.json());

const part = z.strictObject({
  id: z.string().min(1),
  kind: z.enum(['sine', 'silence', 'steps', 'pink', 'sweep', 'polarity', 'identification']),
  channel: z.string().min(1).describe("The job's channel at whose terminals it was read, or `cabin`"),
  recordedChannel: z.int().nonnegative(),
  serves: z.array(identifier),
  playedHz: positive.nullable().describe('Of the tone that was played; null where it has no single one'),
  playedDbfs: z.number().nullable(),
  pass: z.boolean(),
  verdict: z.enum(['passed', 'failed', 'not-judged', 'missing']),
  reading: figures,
  limits: figures,
  why: z.string(),
});

const fault = z.strictObject({
  channel: z.string().min(1),
  ...finding.shape,
  parts: z.array(z.string().min(1)),
});

export const checkResult = z.strictObject({
  recording: z.string().min(1).describe('Name of the file that was checked'),
  track: z.string().min(1).describe('Name of the run track that was played'),
  at: z
    .array(z.string().min(1))
    .min(1)
    .describe("For each channel of the recording: one of the job's channels, `cabin`, or `none`"),
  voltsPerFs: positive.nullable().describe('Volts RMS of a full-scale sine at the terminals'),
  voltsUncertaintyDb: z
    .number()
    .nonnegative()
    .nullable()
    .describe('Standard uncertainty (k = 1) of that; null where it is not known'),
  markers,
  parts: z.array(part),
  missing: z.array(z.string().min(1)),
  faults: z.array(fault),
  pass: z.boolean(),
});
