/**
 * What was done at one station, in order: hands, takes, and what was accepted.
 * With the samples of its takes (one WAV beside it) it replays into the same
 * records, byte for byte; so a fault from the field becomes a test.
 */
import { z } from 'zod';
import { isDoubt, type Take } from '../procedure/take/take.ts';
import { when } from './figures.ts';
import { firstFault } from './first-fault.ts';
import { readJson } from './read-json.ts';
import { conditions } from './records/conditions.ts';
import { JobRefused } from './refused.ts';

export const SESSION_FORMAT = 'kneepoint-session';
export const SESSION_VERSION = 1;

const entry = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('start'), task: z.json() }),
  z.strictObject({ type: z.literal('hand'), event: z.json() }),
  z.strictObject({
    type: z.literal('take'),
    purpose: z.json(),
    request: z.json().describe('What was played, and so what is measured'),
    startFrame: z.int().nonnegative().describe("On the source's clock"),
    frames: z.int().positive(),
    atFrame: z.int().nonnegative().describe('Where it begins in the WAV'),
    doubts: z.array(z.custom<Take['doubts'][number]>(isDoubt, 'no doubt is called so')),
  }),
  z.strictObject({ type: z.literal('accept'), id: z.string().min(1), at: when, conditions }),
]);

const sessionLog = z.strictObject({
  format: z.literal(SESSION_FORMAT),
  version: z.literal(SESSION_VERSION),
  /** Kind of record that this station makes. */
  kind: z.string().min(1),
  sampleRateHz: z.number().positive(),
  file: z
    .string()
    .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*\.wav$/, 'a plain file name that ends in .wav, without a folder')
    .describe('The WAV that holds the takes, one after the other'),
  entries: z.array(entry).min(1),
});

export type SessionLog = z.infer<typeof sessionLog>;
export type SessionEntry = z.infer<typeof entry>;

/**
 * A log from a file's text.
 *
 * @throws JobRefused with one sentence: not JSON, not a session of this format and version, or what is wrong in it and where
 */
export function readSessionLog(text: string): SessionLog {
  const data = readJson(text, `a log of format "${SESSION_FORMAT}" is needed`);
  const parsed = sessionLog.safeParse(data);
  if (parsed.success) return parsed.data;
  throw new JobRefused(`This session cannot be used: ${firstFault(data, parsed.error)}.`);
}
