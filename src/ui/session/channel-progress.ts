/** How far each channel's gain has come: from its records and what the plan asks of it today. */
import type { Job } from '../../job/document.ts';
import type { RecordOf } from '../../job/records.ts';
import { fixed } from '../format/number.ts';
import type { Mark } from '../marks/mark.ts';
import { planOf } from './plan-of.ts';

export interface ChannelProgress {
  channelId: string;
  mark: Mark;
  figure: string;
}

/** Beyond this the plan has changed since the reading was accepted: 1 % of a volt's worth, far under any tolerance. */
const SAME_TARGET_DB = 0.05;

export function recordsOf(job: Job, channelId: string): RecordOf<'gain'>[] {
  return job.records.filter(
    (record): record is RecordOf<'gain'> => record.kind === 'gain' && record.result.channelId === channelId,
  );
}

function isStale(record: RecordOf<'gain'>, targetVolts: number): boolean {
  return Math.abs(20 * Math.log10(record.result.targetVolts / targetVolts)) > SAME_TARGET_DB;
}

export function channelProgress(job: Job, channelId: string): ChannelProgress {
  const plan = planOf(job, channelId);
  const target = typeof plan === 'string' ? null : plan.targetVolts;
  if (target === null || typeof plan === 'string' || plan.toneVolts === null) {
    return { channelId, mark: 'not-done', figure: 'no target' };
  }
  const last = recordsOf(job, channelId).at(-1);
  const aim = fixed(plan.toneVolts, 1);
  if (last === undefined) return { channelId, mark: 'not-done', figure: `target ${aim} V` };
  const figure = `${fixed(last.result.volts, 1)} of ${aim} V`;
  if (isStale(last, target)) return { channelId, mark: 'stale', figure };
  return { channelId, mark: last.result.inside ? 'done' : 'out-of-tolerance', figure };
}

/** The Gain plate's mark: the worst news first, then how many are done. */
export function jobGainMark(progress: ChannelProgress[]): Mark {
  const marks = progress.map((one) => one.mark);
  if (marks.includes('out-of-tolerance')) return 'out-of-tolerance';
  if (marks.includes('stale')) return 'stale';
  if (marks.length > 0 && marks.every((mark) => mark === 'done')) return 'done';
  return marks.includes('done') ? 'under-way' : 'not-done';
}
