/**
 * The job: one vehicle, its chain, its settings, and every record accepted on
 * it. The schema is the single source: types, validation and the published
 * JSON Schema all come from here.
 */
import { z } from 'zod';

export const JOB_FORMAT = 'kneepoint-job';
export const JOB_VERSION = 1;

const id = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'small letters, digits and single hyphens');
const positive = z.number().positive();
const when = z.iso.datetime();

export const powerRating = z.object({ loadOhms: positive, watts: positive });
export const channelRating = z.object({
  ratings: z.array(powerRating).min(1),
  minimumLoadOhms: positive,
});

export const amplifier = z.object({
  id,
  name: z.string().min(1),
  channelCount: z.int().min(1).max(16),
  perChannel: channelRating,
  bridged: channelRating.nullable(),
  ratedSupplyVolts: positive,
});

export const driverGroup = z.object({
  count: z.int().min(1).max(8),
  coilsEach: z.union([z.literal(1), z.literal(2)]),
  coilOhms: positive,
  coilWiring: z.enum(['single', 'series', 'parallel']),
  driverWiring: z.enum([
    'single',
    'series',
    'parallel',
    'series-parallel',
    'one-in-series-with-parallel-pair',
    'one-in-parallel-with-series-pair',
  ]),
  continuousWattsEach: positive,
});

export const channel = z.object({
  id,
  name: z.string().min(1),
  amplifierId: id,
  bridged: z.boolean(),
  drivers: driverGroup,
  /** Which of the source's two channels reaches this one. */
  fedBy: z.enum(['left', 'right', 'both']),
  /** Inputs summed ahead of this channel (1 where nothing is summed). */
  summedInputs: z.int().min(1).max(4),
  band: z.object({ highPassHz: positive.nullable(), lowPassHz: positive.nullable() }),
  tone: z.object({ frequencyHz: positive, levelDbfs: z.number().max(0) }),
  overlapDb: z.number().min(0).max(20),
  toleranceDb: positive,
});

export const source = z.object({
  name: z.string().min(1),
  volumeSteps: z.int().positive().nullable(),
  pickup: z.enum(['speaker-level', 'line-level']),
});

export const converter = z
  .object({ name: z.string().min(1), highestInputVolts: positive.nullable(), adjustable: z.boolean() })
  .nullable();

export const calibrationStamp = z.object({
  id: z.string(),
  voltsPerFs: positive,
  /** Relative standard uncertainty, dB. */
  uncertaintyDb: z.number().nonnegative(),
  deviceLabel: z.string(),
  at: when,
  basis: z.enum(['multimeter', 'divider', 'assumed', 'practice-rig']),
});

export const conditions = z.object({
  supplyVolts: positive.nullable(),
  engineRunning: z.boolean().nullable(),
  loaded: z.boolean().nullable(),
  volumeStep: z.int().nonnegative().nullable(),
  calibration: calibrationStamp.nullable(),
  input: z.string().nullable(),
  note: z.string(),
});

const grade = z.enum(['valid', 'suspect', 'invalid']);
const verdict = z.enum(['clean', 'clipped', 'input-overload', 'undecided']);
const knee = z.object({
  volts: positive.nullable(),
  levelDbfs: z.number(),
  uncertaintyDb: z.number().nonnegative(),
  from: z.enum(['overdrive', 'trace']),
});

export const gainResult = z.object({
  channelId: id,
  way: z.enum(['wire', 'meter']),
  volts: positive,
  voltsUncertainty: z.number().nonnegative().nullable(),
  aimVolts: positive,
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
  marginDb: z.number().nullable(),
  trace: z.array(
    z.object({
      turn: z.int().nonnegative(),
      volts: z.number().nullable(),
      levelDbfs: z.number(),
      thdPercent: z.number().nonnegative(),
      verdict,
    }),
  ),
});

export const record = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('gain'), id: z.string().min(1), at: when, conditions, result: gainResult }),
]);

export const jobDocument = z.object({
  format: z.literal(JOB_FORMAT),
  version: z.literal(JOB_VERSION),
  id: z.string().min(1),
  title: z.string().min(1),
  vehicle: z.string(),
  createdAt: when,
  updatedAt: when,
  source,
  converter,
  amplifiers: z.array(amplifier).min(1),
  channels: z.array(channel).min(1),
  supplyVolts: positive.nullable(),
  records: z.array(record),
});

export type Job = z.infer<typeof jobDocument>;
export type JobChannel = z.infer<typeof channel>;
export type JobAmplifier = z.infer<typeof amplifier>;
export type JobRecord = z.infer<typeof record>;
export type Conditions = z.infer<typeof conditions>;
export type CalibrationStamp = z.infer<typeof calibrationStamp>;
