import type { SupplyTask } from '../procedure/supply/supply.ts';
import type { Job } from './document.ts';
import { planJobChannel } from './job-plan.ts';
import { amplifierOfJob, amplifierOutputWatts, supplyVoltsOf } from './wiring-plan.ts';

/**
 * What the supply and ground of one amplifier are judged by.
 * @throws JobRefused where there is no such amplifier, or a channel's chain cannot exist.
 */
export function supplyTask(job: Job, amplifierId: string): SupplyTask {
  const amplifier = amplifierOfJob(job, amplifierId);
  return {
    amplifierId,
    positive: amplifier.wiring?.positive ?? null,
    ground: amplifier.wiring?.ground ?? null,
    stage: amplifier.class,
    ratedWatts: amplifierOutputWatts(job, amplifier),
    supplyVolts: supplyVoltsOf(job, amplifier),
    groundVolts: job.tolerances.groundVolts,
  };
}

/**
 * What all channels of an amplifier give together under their setting tones,
 * W, once the gains are right and the tone plays on these sides; a channel fed
 * by both counts only where both play. 0 where no channel is reached.
 * @throws JobRefused where a channel's chain cannot exist.
 */
export function toneWatts(job: Job, amplifierId: string, sides: 'left' | 'right' | 'both'): number {
  return job.channels
    .filter((channel) => channel.amplifierId === amplifierId)
    .filter((channel) => sides === 'both' || channel.fedBy === sides)
    .map(({ id }) => planJobChannel(job, id))
    .reduce((sum, { toneVolts, loadOhms }) => sum + (toneVolts ?? 0) ** 2 / loadOhms, 0);
}
