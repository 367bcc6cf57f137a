/** What records of measured tones share. */
import { z } from 'zod';
import { positive } from '../figures.ts';

export const grade = z.enum(['valid', 'suspect', 'invalid']);
export const verdict = z.enum(['clean', 'clipped', 'input-overload', 'undecided']);
export const side = z.enum(['left', 'right']);
export const sourcePoint = z
  .enum(['radio', 'converter'])
  .describe("Where it was measured: the radio's speaker output, or the converter's output behind it");

export const tone = z.strictObject({ frequencyHz: positive, levelDbfs: z.number().max(0) });
export const threeTones = z.strictObject({ middle: tone, bass: tone, treble: tone });
