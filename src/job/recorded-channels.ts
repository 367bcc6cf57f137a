import type { Job } from './document.ts';

/** Channels that some record speaks of: they cannot leave the job, or their records would speak of nothing. */
export function recordedChannelIds(job: Pick<Job, 'records'>): Set<string> {
  return new Set(
    job.records.flatMap(({ result }) =>
      'channelId' in result && result.channelId !== null ? [result.channelId] : [],
    ),
  );
}
