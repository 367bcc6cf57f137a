/** How far the noise of each channel has come, from its records and the target of today. */
import type { Job } from '../../job/document.ts';
import type { RecordOf } from '../../job/records.ts';
import { fixed } from '../format/number.ts';
import type { Mark } from '../marks/mark.ts';
import { planOf } from './plan-of.ts';

/** Beyond this the target has changed since: 1 % of its voltage. */
const SAME_TARGET_DB = 0.1;

export function noiseRecordsOf(job: Job, channelId: string | null): RecordOf<'noise'>[] {
  return job.records.filter(
    (record): record is RecordOf<'noise'> => record.kind === 'noise' && record.result.channelId === channelId,
  );
}

export function noiseMark({ inside, place, states }: RecordOf<'noise'>['result']): Mark {
  if (inside === false) return 'out-of-tolerance';
  const isJudged = inside === true || place === 'microphone';
  return isJudged && states.length === 3 ? 'done' : 'under-way';
}

function isStale(job: Job, { channelId, targetVolts, toleranceDb }: RecordOf<'noise'>['result']): boolean {
  if (toleranceDb !== job.tolerances.noiseDb) return true;
  if (channelId === null || targetVolts === null) return false;
  const plan = planOf(job, channelId);
  const today = typeof plan === 'string' ? null : plan.targetVolts;
  return today === null || Math.abs(20 * Math.log10(today / targetVolts)) > SAME_TARGET_DB;
}

/** @param channelId `null` for the microphone in the cabin */
export function noiseProgress(job: Job, channelId: string | null): { mark: Mark; figure: string } {
  const last = noiseRecordsOf(job, channelId).at(-1);
  if (last === undefined) return { mark: 'not-done', figure: 'not measured' };
  const { belowTargetDb } = last.result;
  const figure = belowTargetDb === null ? 'recorded' : `${fixed(belowTargetDb, 0)} dB below target`;
  return { mark: isStale(job, last.result) ? 'stale' : noiseMark(last.result), figure };
}
