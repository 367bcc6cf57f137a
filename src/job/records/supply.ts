import { z } from 'zod';
import { identifier, positive } from '../figures.ts';

const wire = z.strictObject({
  metres: positive,
  areaMm2: positive,
  material: z.enum(['copper', 'copper-clad-aluminium']),
});

const pair = z
  .strictObject({
    restVolts: z.number(),
    toneVolts: z.number(),
    voltsPerDigit: positive.describe('One count of the last digit shown'),
  })
  .describe('DC volts at one point, at rest and under the tone');

const uncertainty = z.number().nonnegative().describe('Standard uncertainty (k = 1)');

const leg = z.strictObject({
  wire: wire.nullable().describe('As noted in the job at that time; null where it was not'),
  ohms: z.number(),
  ohmsUncertainty: uncertainty,
  wireLowOhms: positive.nullable().describe('What such a wire may have: solid and cold'),
  wireHighOhms: positive.nullable().describe('Stranded and warm'),
  restOhms: z.number().nonnegative().nullable().describe('What the wire does not explain'),
  verdict: z.enum(['good', 'poor', 'cannot-tell']),
});

export const supplyResult = z.strictObject({
  amplifierId: identifier,
  meter: z.strictObject({ percentOfReading: z.number().nonnegative(), digits: z.number().nonnegative() }),
  readings: z.strictObject({
    'ground-leg': pair.nullable(),
    amplifier: pair.nullable(),
    battery: pair.nullable(),
  }),
  current: z.discriminatedUnion('from', [
    z.strictObject({
      from: z.literal('clamp'),
      restAmperes: z.number().nonnegative(),
      toneAmperes: z.number().nonnegative(),
      amperesPerDigit: positive,
    }),
    z.strictObject({ from: z.literal('power'), watts: positive.describe('Output under the tone') }),
  ]),
  riseAmperes: positive.describe('What the tone adds to the current'),
  riseAmperesUncertainty: uncertainty,
  groundDropVolts: z.number().describe('Across the ground leg under the tone'),
  groundVolts: positive.describe('What the job allowed for it'),
  ground: leg,
  positive: leg
    .nullable()
    .describe('From battery to amplifier, fuse and all; null where it was not measured'),
  batterySagVolts: z.number().nullable(),
  inside: z.boolean(),
  findings: z.array(z.strictObject({ fault: z.string(), sentence: z.string(), evidence: z.string() })),
});
