/**
 * What is recorded when a reading is accepted, and under which conditions. A
 * record is never changed and never replaced: a new one stands beside it.
 */
import { z } from 'zod';
import { when } from './figures.ts';
import { arrivalResult } from './records/arrival.ts';
import { checkResult } from './records/check.ts';
import { conditions } from './records/conditions.ts';
import { crossoverResult } from './records/crossover.ts';
import { gainResult } from './records/gain.ts';
import { inputResult } from './records/input.ts';
import { levelResult } from './records/level.ts';
import { loadResult } from './records/load.ts';
import { noiseResult } from './records/noise.ts';
import { polarityResult } from './records/polarity.ts';
import { sidesResult } from './records/sides.ts';
import { sourceResult } from './records/source.ts';
import { supplyResult } from './records/supply.ts';
import { turnOnResult } from './records/turn-on.ts';

const stamp = { id: z.string().min(1), at: when, conditions };

/** One kind for each station's result, and one for the check by the run track; each result's own shape stands in `records/`. */
export const record = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('input'), ...stamp, result: inputResult }),
  z.strictObject({ kind: z.literal('gain'), ...stamp, result: gainResult }),
  z.strictObject({ kind: z.literal('source'), ...stamp, result: sourceResult }),
  z.strictObject({ kind: z.literal('load'), ...stamp, result: loadResult }),
  z.strictObject({ kind: z.literal('sides'), ...stamp, result: sidesResult }),
  z.strictObject({ kind: z.literal('turn-on'), ...stamp, result: turnOnResult }),
  z.strictObject({ kind: z.literal('crossover'), ...stamp, result: crossoverResult }),
  z.strictObject({ kind: z.literal('supply'), ...stamp, result: supplyResult }),
  z.strictObject({ kind: z.literal('noise'), ...stamp, result: noiseResult }),
  z.strictObject({ kind: z.literal('level'), ...stamp, result: levelResult }),
  z.strictObject({ kind: z.literal('polarity'), ...stamp, result: polarityResult }),
  z.strictObject({ kind: z.literal('arrival'), ...stamp, result: arrivalResult }),
  z.strictObject({ kind: z.literal('check'), ...stamp, result: checkResult }),
]);

export type JobRecord = z.infer<typeof record>;
export type RecordKind = JobRecord['kind'];
export type RecordOf<K extends RecordKind> = Extract<JobRecord, { kind: K }>;
export type { CalibrationStamp, Conditions } from './records/conditions.ts';
