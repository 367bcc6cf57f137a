import type { Job } from './document.ts';

/** How many of an amplifier's channels are taken: a bridged one takes two. */
export function outputsUsed(job: Pick<Job, 'channels'>, amplifierId: string): number {
  return job.channels
    .filter((channel) => channel.amplifierId === amplifierId)
    .reduce((sum, channel) => sum + (channel.bridged ? 2 : 1), 0);
}

/** How many of an amplifier's channels are free; below 0 where more are used than it has. */
export function outputsFree(job: Pick<Job, 'amplifiers' | 'channels'>, amplifierId: string): number {
  const has = job.amplifiers.find(({ id }) => id === amplifierId)?.channelCount ?? 0;
  return has - outputsUsed(job, amplifierId);
}
