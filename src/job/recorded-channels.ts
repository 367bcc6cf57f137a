import type { Job } from './document.ts';

/** Channels that some record speaks of: they cannot leave the job, or their records would speak of nothing. */
export function recordedChannelIds(job: Pick<Job, 'records'>): Set<string> {
  return new Set(job.records.flatMap(({ result }) => [...ownChannel(result), ...itsChannels(result)]));
}

type Result = Job['records'][number]['result'];

function ownChannel(result: Result): string[] {
  return 'channelId' in result && result.channelId !== null ? [result.channelId] : [];
}

/** Of a record that compares channels. */
function itsChannels(result: Result): string[] {
  return 'channels' in result ? result.channels.map((channel) => channel.channelId) : [];
}
