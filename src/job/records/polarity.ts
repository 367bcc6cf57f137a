import { z } from 'zod';
import { identifier } from '../figures.ts';
import { finding } from './finding.ts';

const channelPolarity = z.strictObject({
  channelId: identifier,
  verdict: z.enum(['normal', 'reversed', 'cannot-tell']),
  read: z.enum(['upright', 'inverted', 'undecided']).describe('As the input heard it'),
  confidence: z.number().min(0.5).max(1).describe('That the likelier of the two ways is right'),
  signalToNoiseDb: z.number(),
});

export const polarityResult = z.strictObject({
  turnedOver: z
    .boolean()
    .describe('Whether most channels read upside down, so that radio or input turn everything over'),
  channels: z.array(channelPolarity).min(1),
  inside: z.boolean().nullable().describe('Null where a channel could not be told'),
  findings: z.array(finding),
});
