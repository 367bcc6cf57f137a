import { z } from 'zod';
import { identifier, positive } from '../figures.ts';

const alignment = z.enum(['butterworth', 'linkwitz-riley', 'bessel']);
const order = z.int().min(1).max(8);

const side = z.strictObject({
  wantedHz: positive.nullable().describe('Corner in the plan; null where the band is open at this end'),
  wanted: z.strictObject({ alignment, order }).nullable().describe('Null where any slope will do'),
  found: z
    .strictObject({
      alignment: alignment.nullable().describe('Null where two explain the response equally well'),
      order: order.nullable(),
      cutoffHz: positive.describe('-3.01 dB; for Linkwitz-Riley -6.02 dB'),
      cutoffUncertaintyHz: z
        .number()
        .nonnegative()
        .describe('Standard uncertainty (k = 1) from noise and fit'),
      slopeDbPerOctave: positive.nullable(),
    })
    .nullable(),
  errorPercent: z.number().nullable().describe('Corner found against the wanted one'),
  inside: z.boolean().nullable().describe('Null where nothing is wanted, or it could not be told'),
});

const handover = z.strictObject({
  deepestDb: z.number(),
  deepestHz: positive,
  highestDb: z.number(),
  highestHz: positive,
});

const curve = z.strictObject({
  frequenciesHz: z.array(positive),
  magnitudesDb: z.array(z.number().nullable()),
  phasesDeg: z.array(z.number().nullable()).describe('Counted from where the energy arrives'),
  uncertaintiesDb: z.array(z.number().nonnegative().nullable()),
});

export const crossoverResult = z.strictObject({
  channelId: identifier,
  inside: z.boolean(),
  tolerancePercent: positive.describe('How far a corner might lie off'),
  reference: z
    .strictObject({ way: z.enum(['input-plug', 'filters-off']), channelId: identifier })
    .nullable()
    .describe('What was divided out; null for nothing'),
  sweep: z.strictObject({
    startHz: positive,
    endHz: positive,
    levelDbfs: z.number(),
    durationSeconds: positive,
  }),
  highPass: side,
  lowPass: side,
  verdict: z.enum(['filters', 'flat', 'none of these']),
  residualDb: z.number().nonnegative().describe('What the best fit leaves, root mean square'),
  inverted: z.boolean().nullable().describe('Upside down against the reference'),
  sums: z
    .array(
      z.strictObject({
        lowerId: identifier,
        upperId: identifier,
        meetHz: positive,
        asWired: handover,
        turned: handover.describe('With one of the two turned over'),
      }),
    )
    .describe('With neighbours that were measured; 0 dB is a handover without loss'),
  curve: curve.describe('Response behind the filters over the reference'),
  grade: z.enum(['valid', 'suspect', 'invalid']),
  doubts: z.array(z.string()),
  findings: z.array(
    z.strictObject({ fault: z.string(), sentence: z.string(), evidence: z.string(), remedy: z.string() }),
  ),
});
