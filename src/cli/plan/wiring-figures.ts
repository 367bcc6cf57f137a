import type { Job, JobAmplifier } from '../../job/document.ts';
import { amplifierOutputWatts, planJobPowerWiring, supplyVoltsOf } from '../../job/wiring-plan.ts';
import type { PowerWiringPlan } from '../../plan/supply/power-wiring.ts';

export interface AmplifierFigures {
  amplifier: JobAmplifier;
  outputWatts: number;
  supplyVolts: number;
  allowedDropVolts: number;
  plan: PowerWiringPlan;
}

/**
 * What every amplifier's supply carries and drops, in the job's order.
 * @throws JobRefused where a channel's chain or a wire cannot exist
 */
export function amplifierFigures(job: Job): AmplifierFigures[] {
  return job.amplifiers.map((amplifier) => ({
    amplifier,
    outputWatts: amplifierOutputWatts(job, amplifier),
    supplyVolts: supplyVoltsOf(job, amplifier),
    allowedDropVolts: job.tolerances.supplyDropVolts,
    plan: planJobPowerWiring(job, amplifier.id),
  }));
}
