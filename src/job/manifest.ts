/**
 * The manifest of a tone set: which track holds what, where it stands in its
 * file, what it is for. A track carries its tone's own figures under the same
 * names as the tone's specification (src/dsp/tones/spec.ts), so that a track
 * can be handed to the renderer as it is.
 */
import { z } from 'zod';
import { identifier, positive } from './figures.ts';

export const MANIFEST_FORMAT = 'kneepoint-tone-set';
export const MANIFEST_VERSION = 1;

const levelDbfs = z.number().max(0).describe('RMS against a full-scale sine');
const fileName = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*\.wav$/, 'a plain file name that ends in .wav, without a folder');

/** What every track and every part says, whatever it plays. */
const place = {
  channels: z.enum(['left', 'right', 'both']).describe('Which channels of the file carry the signal'),
  serves: z.array(identifier).describe("The job's channels that this is for; empty where it is for all"),
  purpose: z.string().min(1).describe('Why it is there, one sentence'),
  caution: z.string().min(1).nullable().describe('What can be hurt, one sentence; null where nothing can'),
  startSeconds: z.number().nonnegative().describe('Where it begins in its file'),
  durationSeconds: positive,
};

const sine = { kind: z.literal('sine'), frequencyHz: positive, levelDbfs };
const silence = { kind: z.literal('silence') };
const quietPart = {
  ...silence,
  keepAlive: z
    .strictObject({ frequencyHz: positive, levelDbfs })
    .exactOptional()
    .describe('A low tone that keeps a sensing converter awake meanwhile; left out where there is none'),
};
const steps = {
  kind: z.literal('steps'),
  frequencyHz: positive,
  levelsDbfs: z.array(levelDbfs).min(1),
  stepSeconds: positive,
  pauseSeconds: z.number().nonnegative(),
};
const pink = { kind: z.literal('pink'), lowHz: positive, highHz: positive, levelDbfs, seed: z.int() };
const sweep = { kind: z.literal('sweep'), startHz: positive, endHz: positive, levelDbfs };
const polarity = {
  kind: z.literal('polarity'),
  frequencyHz: positive,
  furtherHz: z
    .array(positive)
    .min(1)
    .exactOptional()
    .describe('Further pulses in each interval, evenly spaced; left out where there are none'),
  peakDbfs: z.number().max(0).describe('Peak against full scale 1.0'),
  everySeconds: positive,
};
const identification = {
  kind: z.literal('identification'),
  frequencyHz: positive,
  levelDbfs,
  beeps: z.int().min(1).max(16),
};

function withPlace<T extends Record<string, z.ZodType>>(tone: T) {
  return z.strictObject({ id: identifier, ...tone, ...place });
}

/** A piece of a run track: like a track, with its place in time and no file of its own. */
const part = z.discriminatedUnion('kind', [
  withPlace(sine),
  withPlace(quietPart),
  withPlace(steps),
  withPlace(pink),
  withPlace(sweep),
  withPlace(polarity),
  withPlace(identification),
]);

const seconds = z.number().nonnegative();

/** What a run track says beside its parts: where they are to be found, and what of them is steady. */
const run = {
  kind: z.literal('run'),
  markers: z
    .strictObject({
      startSeconds: seconds.describe('Where the start marker begins'),
      endSeconds: seconds.describe('Where the end marker begins'),
      durationSeconds: positive.describe('Of each of them'),
      levelDbfs: levelDbfs.describe('Of a sine of the same peak'),
    })
    .describe('Glides at both ends by which the track is found in a recording, and the clocks compared'),
  guardSeconds: positive.describe('Least silence around each part and marker'),
  marginSeconds: z
    .strictObject({ start: seconds, end: seconds })
    .describe('What of the beginning and the end of a steady part is left out of its reading'),
  parts: z.array(part).min(1).describe('In the order of time; none overlaps another'),
};

const file = { file: fileName };

const track = z.discriminatedUnion('kind', [
  withPlace({ ...file, ...sine }),
  withPlace({ ...file, ...silence }),
  withPlace({ ...file, ...steps }),
  withPlace({ ...file, ...pink }),
  withPlace({ ...file, ...sweep }),
  withPlace({ ...file, ...polarity }),
  withPlace({ ...file, ...identification }),
  withPlace({ ...file, ...run }),
]);

export const manifest = z
  .strictObject({
    format: z.literal(MANIFEST_FORMAT),
    version: z.literal(MANIFEST_VERSION),
    sampleRateHz: z.int().min(8_000).max(192_000),
    bits: z.union([z.literal(16), z.literal(24)]),
    jobId: z.string().min(1).nullable().describe('The job it was made for; null for the general set'),
    tracks: z.array(track).min(1),
  })
  .meta({
    title: 'Kneepoint tone set',
    description: 'The tracks of one tone set, in the order of its files.',
  });

export type Manifest = z.infer<typeof manifest>;
export type Track = z.infer<typeof track>;
export type RunTrack = Extract<Track, { kind: 'run' }>;
export type RunPart = RunTrack['parts'][number];
