import { z } from 'zod';
import { identifier, positive } from '../figures.ts';
import { finding } from './finding.ts';

const length = z.number().nonnegative();

const channelArrival = z.strictObject({
  channelId: identifier,
  arrivalMs: length.describe('After the first of all to arrive'),
  uncertaintyMs: length.describe('Standard uncertainty (k = 1): band, cabin, noise and clock'),
  delayMs: length.describe('So that it arrives with the last of all'),
  delayCm: length,
  delayInches: length,
});

export const arrivalResult = z.strictObject({
  airCelsius: z.number(),
  toleranceMs: positive,
  skewPpm: z.number().describe("Recorder's clock against the player's"),
  skewUncertaintyPpm: length,
  channels: z.array(channelArrival).min(2),
  latestId: identifier,
  worstDifferenceMs: length.describe('Last against first, without any delay set after it'),
  inside: z.boolean().describe('Whether all arrive together as it is'),
  findings: z.array(finding),
});
