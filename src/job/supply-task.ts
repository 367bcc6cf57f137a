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
  const ratedWatts = amplifierOutputWatts(job, amplifier);
  const toneWatts = job.channels
    .filter((channel) => channel.amplifierId === amplifierId)
    .map(({ id }) => planJobChannel(job, id))
    .reduce((sum, { toneVolts, loadOhms }) => sum + (toneVolts ?? 0) ** 2 / loadOhms, 0);
  return {
    amplifierId,
    positive: amplifier.wiring?.positive ?? null,
    ground: amplifier.wiring?.ground ?? null,
    stage: amplifier.class,
    ratedWatts,
    toneWatts: toneWatts > 0 ? toneWatts : ratedWatts,
    supplyVolts: supplyVoltsOf(job, amplifier),
    groundVolts: job.tolerances.groundVolts,
  };
}
