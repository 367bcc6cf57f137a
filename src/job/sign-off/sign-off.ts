/** The accepted record of a job: everything in it on one day, frozen, with the hash that shows a change. */
import { z } from 'zod';
import { when } from '../figures.ts';

export const sha256 = z.string().regex(/^[0-9a-f]{64}$/, '64 small hexadecimal digits');

export const signOff = z.strictObject({
  id: z.string().min(1),
  at: when,
  signedBy: z.string().min(1),
  note: z.string(),
  content: z
    .looseObject({ version: z.int().positive() })
    .describe('The job as it was, its sign-offs aside, in the version of that day; never migrated'),
  sha256: sha256.describe('SHA-256 of all else in this sign-off, as canonical JSON (RFC 8785) in UTF-8'),
});

export type SignOff = z.infer<typeof signOff>;
