import { PlanRefused } from '../plan/refused.ts';
import { type PowerWiringPlan, planPowerWiring } from '../plan/supply/power-wiring.ts';
import { type SpeakerRunCost, speakerRunCost } from '../plan/supply/speaker-run.ts';
import { channelOf } from './channel-chain.ts';
import type { Job, JobAmplifier } from './document.ts';
import { planJobChannel } from './job-plan.ts';
import { JobRefused } from './refused.ts';

/** @throws JobRefused where the job has no such amplifier. */
export function amplifierOfJob(job: Job, amplifierId: string): JobAmplifier {
  const found = job.amplifiers.find((one) => one.id === amplifierId);
  if (found !== undefined) return found;
  const known = job.amplifiers.map((one) => one.id).join(', ');
  throw new JobRefused(`This job has no amplifier "${amplifierId}"; its amplifiers are ${known}.`);
}

/**
 * All that an amplifier can give at once, W: its clean power at the wired
 * loads, whatever the drivers take. Where no channel says, all channels at the
 * highest stated rating.
 * @throws JobRefused naming a channel whose chain cannot exist.
 */
export function amplifierOutputWatts(job: Job, amplifier: JobAmplifier): number {
  const watts = job.channels
    .filter((channel) => channel.amplifierId === amplifier.id)
    .reduce((sum, { id }) => sum + (planJobChannel(job, id).amplifierWatts ?? 0), 0);
  if (watts > 0) return watts;
  return amplifier.channelCount * Math.max(...amplifier.perChannel.ratings.map((rating) => rating.watts));
}

/** Supply at which draws are worked out: the one found, else the one of the rating. */
export function supplyVoltsOf(job: Job, amplifier: JobAmplifier): number {
  return job.supplyVolts ?? amplifier.ratedSupplyVolts;
}

/** @throws JobRefused where there is no such amplifier, or a figure of its wiring cannot be. */
export function planJobPowerWiring(job: Job, amplifierId: string): PowerWiringPlan {
  const amplifier = amplifierOfJob(job, amplifierId);
  const { wiring } = amplifier;
  try {
    return planPowerWiring({
      outputWatts: amplifierOutputWatts(job, amplifier),
      stage: amplifier.class,
      supplyVolts: supplyVoltsOf(job, amplifier),
      positive: wiring?.positive ?? null,
      ground: wiring?.ground ?? null,
      fuseAmps: wiring?.fuseAmps ?? null,
      fuseMetresFromBattery: wiring?.fuseMetresFromBattery ?? null,
      allowedDropVolts: job.tolerances.supplyDropVolts,
    });
  } catch (fault) {
    if (!(fault instanceof PlanRefused)) throw fault;
    throw new JobRefused(`Amplifier ${amplifierId}: ${fault.message}`, { cause: fault });
  }
}

/**
 * What the speaker wires of a channel cost; `null` where nobody has noted them.
 * @throws JobRefused where there is no such channel, or its chain or wires cannot exist.
 */
export function planJobSpeakerRun(job: Job, channelId: string): SpeakerRunCost | null {
  const { speakerRun } = channelOf(job, channelId);
  if (speakerRun === null) return null;
  try {
    return speakerRunCost(speakerRun, planJobChannel(job, channelId).loadOhms);
  } catch (fault) {
    if (!(fault instanceof PlanRefused)) throw fault;
    throw new JobRefused(`Channel ${channelId}: ${fault.message}`, { cause: fault });
  }
}
