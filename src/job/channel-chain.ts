import type { ChannelChain } from '../plan/chain.ts';
import type { Job, JobAmplifier, JobChannel } from './document.ts';
import { JobRefused } from './refused.ts';

/** @throws JobRefused where the job has no such channel. */
export function channelOf(job: Job, channelId: string): JobChannel {
  const found = job.channels.find((channel) => channel.id === channelId);
  if (found !== undefined) return found;
  const known = job.channels.map((channel) => channel.id).join(', ');
  throw new JobRefused(`This job has no channel "${channelId}"; its channels are ${known}.`);
}

/** @throws JobRefused where the channel names an amplifier that the job does not have. */
function amplifierOf(job: Job, channel: JobChannel): JobAmplifier {
  const found = job.amplifiers.find((amplifier) => amplifier.id === channel.amplifierId);
  if (found !== undefined) return found;
  throw new JobRefused(
    `Channel ${channel.id} names amplifier "${channel.amplifierId}", which this job lacks.`,
  );
}

/**
 * All that the target of one channel depends on, gathered from the job. A tone
 * played on both sides reaches every summed input; one side reaches one.
 *
 * @throws JobRefused where the job has no such channel or no such amplifier.
 */
export function channelChain(job: Job, channelId: string): ChannelChain {
  const channel = channelOf(job, channelId);
  const { perChannel, bridged, ratedSupplyVolts } = amplifierOf(job, channel);
  return {
    amplifier: { perChannel, bridged, ratedSupplyVolts },
    bridged: channel.bridged,
    drivers: channel.drivers,
    supplyVolts: job.supplyVolts,
    overlapDb: channel.overlapDb,
    toneDbfs: channel.tone.levelDbfs,
    summedInputs: channel.summedInputs,
    inputsWithTone: channel.fedBy === 'both' ? channel.summedInputs : 1,
  };
}
