/** The small shapes that job and manifest share. */
import { z } from 'zod';

export const identifier = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'small letters, digits and single hyphens');

export const positive = z.number().positive();

/** A moment in UTC, as `Date.toISOString` writes it. */
export const when = z.iso.datetime();
