/** How far each channel's gain has come: its mark from the job's progress, its figure from its record. */
import type { Job } from '../../job/document.ts';
import { fixed } from '../../job/format/number.ts';
import { jobProgress } from '../../job/progress/job-progress.ts';
import type { RecordOf } from '../../job/records.ts';
import type { Mark } from '../marks/mark.ts';
import { planOf } from './plan-of.ts';

export interface ChannelProgress {
  channelId: string;
  mark: Mark;
  figure: string;
}

export function recordsOf(job: Job, channelId: string): RecordOf<'gain'>[] {
  return job.records.filter(
    (record): record is RecordOf<'gain'> => record.kind === 'gain' && record.result.channelId === channelId,
  );
}

export function channelProgress(job: Job, channelId: string): ChannelProgress {
  const plan = planOf(job, channelId);
  if (typeof plan === 'string' || plan.toneVolts === null) {
    return { channelId, mark: 'not-done', figure: 'no target' };
  }
  const point = jobProgress(job).find((one) => one.kind === 'gain' && one.subjectId === channelId);
  const last = recordsOf(job, channelId).at(-1);
  if (point === undefined || last === undefined) {
    return { channelId, mark: 'not-done', figure: `target ${fixed(plan.toneVolts, 1)} V` };
  }
  // Of what the plan asks at the level that the tone was played at.
  const aimVolts = plan.toneVolts * 10 ** ((last.result.toneDbfs - plan.toneDbfs) / 20);
  const decimals = aimVolts < 10 ? 2 : 1;
  const figure = `${fixed(last.result.volts, decimals)} of ${fixed(aimVolts, decimals)} V`;
  return { channelId, mark: point.mark, figure };
}
