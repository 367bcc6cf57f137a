import type { ChannelPlan } from '../plan/chain.ts';
import { planChannel } from '../plan/channel-plan.ts';
import { PlanRefused } from '../plan/refused.ts';
import type { GainTask } from '../procedure/gain/gain.ts';
import { channelChain, channelOf } from './channel-chain.ts';
import type { Job } from './document.ts';
import { JobRefused } from './refused.ts';

export interface PlannedChannel {
  channelId: string;
  plan: ChannelPlan;
}

/**
 * What every channel should read, in the job's order.
 *
 * @throws JobRefused naming the channel whose chain cannot exist (impossible wiring and the like).
 */
export function planJob(job: Job): PlannedChannel[] {
  return job.channels.map(({ id }) => ({ channelId: id, plan: planJobChannel(job, id) }));
}

/** As `planJob`, for one channel. */
export function planJobChannel(job: Job, channelId: string): ChannelPlan {
  try {
    return planChannel(channelChain(job, channelId));
  } catch (fault) {
    if (!(fault instanceof PlanRefused)) throw fault;
    throw new JobRefused(`Channel ${channelId}: ${fault.message}`, { cause: fault });
  }
}

/**
 * The Gain station's task for one channel.
 *
 * @throws JobRefused where the channel has no target voltage, with the plan's reason, or its chain cannot exist.
 */
export function gainTask(job: Job, channelId: string, way: GainTask['way']): GainTask {
  const channel = channelOf(job, channelId);
  const plan = planJobChannel(job, channelId);
  const { summedInputs, inputsWithTone } = channelChain(job, channelId);
  if (plan.targetVolts === null || plan.toneVolts === null) {
    const reasons = plan.warnings.map((warning) => warning.sentence).join(' ');
    throw new JobRefused(`Channel ${channelId} has no target voltage: ${reasons}`);
  }
  return {
    channelId,
    aimVolts: plan.toneVolts,
    targetVolts: plan.targetVolts,
    toneHz: channel.tone.frequencyHz,
    toneDbfs: channel.tone.levelDbfs,
    level: 'planned',
    plannedDbfs: channel.tone.levelDbfs,
    overlapDb: channel.overlapDb,
    summedInputs,
    inputsWithTone,
    toleranceDb: channel.toleranceDb,
    way,
  };
}
