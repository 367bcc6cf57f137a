/** How far the noise of each channel has come, from its records. */
import type { Job } from '../../job/document.ts';
import { fixed } from '../../job/format/number.ts';
import { recordStanding } from '../../job/progress/job-progress.ts';
import type { RecordOf } from '../../job/records.ts';
import type { Mark } from '../marks/mark.ts';

export function noiseRecordsOf(job: Job, channelId: string | null): RecordOf<'noise'>[] {
  return job.records.filter(
    (record): record is RecordOf<'noise'> => record.kind === 'noise' && record.result.channelId === channelId,
  );
}

/** @param channelId `null` for the microphone in the cabin */
export function noiseProgress(job: Job, channelId: string | null): { mark: Mark; figure: string } {
  const last = noiseRecordsOf(job, channelId).at(-1);
  if (last === undefined) return { mark: 'not-done', figure: 'not measured' };
  const { belowTargetDb } = last.result;
  const figure = belowTargetDb === null ? 'recorded' : `${fixed(belowTargetDb, 0)} dB below target`;
  return { mark: recordStanding(job, last).mark, figure };
}
