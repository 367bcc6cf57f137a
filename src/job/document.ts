/**
 * The job: one vehicle, its chain, its settings, and every record accepted on
 * it. The schema is the single source: types, validation and the published
 * JSON Schema all come from here.
 */
import { z } from 'zod';
import { identifier, positive, when } from './figures.ts';
import { record } from './records.ts';
import { sha256, signOff } from './sign-off/sign-off.ts';
import { tolerances } from './tolerances.ts';

export const JOB_FORMAT = 'kneepoint-job';
export const JOB_VERSION = 2;

const wireRun = z
  .strictObject({
    metres: positive.describe('One way'),
    areaMm2: positive.describe('Cross-section of the conductor'),
    material: z.enum(['copper', 'copper-clad-aluminium']),
  })
  .describe('One wire, from end to end');

const wiring = z
  .strictObject({
    positive: wireRun.nullable(),
    ground: wireRun.nullable(),
    fuseAmps: positive.nullable(),
    fuseMetresFromBattery: z.number().nonnegative().nullable(),
  })
  .describe('Supply of one amplifier; null where nobody has noted it');

const powerRating = z.strictObject({ loadOhms: positive, watts: positive });

const channelRating = z.strictObject({
  ratings: z.array(powerRating).min(1),
  minimumLoadOhms: positive,
});

const amplifier = z.strictObject({
  id: identifier,
  name: z.string().min(1),
  channelCount: z.int().min(1).max(16),
  perChannel: channelRating.describe('One channel, all channels alike'),
  bridged: channelRating.nullable().describe('Two channels bridged; null where the maker forbids it'),
  ratedSupplyVolts: positive.describe('Supply at which the power is rated'),
  class: z
    .enum(['AB', 'D'])
    .nullable()
    .describe('Output stage, for what it draws from the supply; null if unknown'),
  wiring: wiring.nullable(),
});

const driverGroup = z
  .strictObject({
    count: z.int().min(1).max(8),
    coilsEach: z.union([z.literal(1), z.literal(2)]),
    coilOhms: positive.describe('Nominal impedance of one coil'),
    coilWiring: z.enum(['single', 'series', 'parallel']),
    driverWiring: z.enum([
      'single',
      'series',
      'parallel',
      'series-parallel',
      'one-in-series-with-parallel-pair',
      'one-in-parallel-with-series-pair',
    ]),
    continuousWattsEach: positive.describe('Continuous power of one driver, all its coils together'),
  })
  .describe('Equal drivers on one channel');

const wantedSlope = z.strictObject({
  alignment: z.enum(['butterworth', 'linkwitz-riley', 'bessel']),
  order: z.int().min(1).max(8),
});

const channel = z.strictObject({
  id: identifier,
  name: z.string().min(1),
  amplifierId: identifier,
  bridged: z.boolean(),
  drivers: driverGroup,
  fedBy: z.enum(['left', 'right', 'both']).describe("Which of the source's two channels reaches this one"),
  summedInputs: z
    .int()
    .min(1)
    .max(4)
    .describe('Inputs summed ahead of this channel; 1 where nothing is summed'),
  band: z.strictObject({ highPassHz: positive.nullable(), lowPassHz: positive.nullable() }),
  slopes: z
    .strictObject({ highPass: wantedSlope.nullable(), lowPass: wantedSlope.nullable() })
    .describe('What the filters at the ends of the band should be; null where any will do'),
  tone: z
    .strictObject({ frequencyHz: positive, levelDbfs: z.number().max(0) })
    .describe('Setting tone; its level is against a full-scale sine'),
  overlapDb: z.number().min(0).max(20).describe('A tone at minus this level reaches the target'),
  toleranceDb: positive.describe('Half width of what is accepted as on target'),
  speakerRun: wireRun
    .nullable()
    .describe('From the amplifier to the drivers; null where nobody has noted it'),
});

const source = z.strictObject({
  name: z.string().min(1),
  volumeSteps: z.int().positive().nullable(),
  pickup: z.enum(['speaker-level', 'line-level']),
  loadResistors: z
    .strictObject({ ohms: positive, watts: positive })
    .nullable()
    .describe('Across each speaker output, so that the source sees a speaker; null where there are none'),
  highestVolts: positive
    .nullable()
    .describe('Highest voltage at the pickup, volts RMS; null while nobody knows it'),
});

const converter = z
  .strictObject({
    name: z.string().min(1),
    highestInputVolts: positive.nullable(),
    adjustable: z.boolean(),
    ratioDb: z.number().nullable().describe('Output against input; null where adjustable or unknown'),
    turnOn: z.enum(['remote-wire', 'sensing', 'unknown']).describe('What wakes it'),
  })
  .nullable();

export const jobDocument = z
  .strictObject({
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
    supplyVolts: positive
      .nullable()
      .describe('Supply found at the amplifiers; null while nobody has measured it'),
    tolerances,
    records: z.array(record).describe('Everything accepted, oldest first; added to and never changed'),
    signOffs: z
      .array(signOff)
      .default([])
      .describe('Sign-offs of this job, oldest first; added to and never changed'),
    exportedSha256: sha256
      .optional()
      .describe('Of a file with sign-offs: SHA-256 of all else in it, as canonical JSON (RFC 8785) in UTF-8'),
  })
  .superRefine((job, context) => {
    for (const list of ['amplifiers', 'channels', 'records', 'signOffs'] as const) {
      const first = new Map<string, number>();
      for (const [index, { id }] of job[list].entries()) {
        const earlier = first.get(id);
        if (earlier === undefined) first.set(id, index);
        else {
          context.addIssue({
            code: 'custom',
            path: [list, index, 'id'],
            message: `it must differ from the id of ${list}[${earlier}]`,
          });
        }
      }
    }
    const amplifierIds = job.amplifiers.map((one) => one.id);
    for (const [index, { amplifierId }] of job.channels.entries()) {
      if (amplifierIds.includes(amplifierId)) continue;
      context.addIssue({
        code: 'custom',
        path: ['channels', index, 'amplifierId'],
        message: `it must be the id of an amplifier of this job (${amplifierIds.join(', ')})`,
      });
    }
  })
  .meta({
    title: 'Kneepoint job',
    description: 'One vehicle: its chain, its settings, its accepted records.',
  });

export type Job = z.infer<typeof jobDocument>;
export type JobChannel = z.infer<typeof channel>;
export type JobAmplifier = z.infer<typeof amplifier>;
export type WireRun = z.infer<typeof wireRun>;
export type Tolerances = z.infer<typeof tolerances>;
export type { CalibrationStamp, Conditions, JobRecord } from './records.ts';
export type { SignOff } from './sign-off/sign-off.ts';
