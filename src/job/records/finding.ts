import { z } from 'zod';

/** A fault by its name, as it was told when the record was accepted. */
export const finding = z.strictObject({
  fault: z.string().min(1).describe('Stable word for it'),
  sentence: z.string(),
  evidence: z.string(),
  remedy: z.string(),
});
