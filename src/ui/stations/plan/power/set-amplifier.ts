import type { Job, JobAmplifier } from '../../../../job/document.ts';
import { editJob } from '../../../session/job-session.ts';

type Wiring = NonNullable<JobAmplifier['wiring']>;

const NOTHING_NOTED: Wiring = {
  positive: null,
  ground: null,
  fuseAmps: null,
  fuseMetresFromBattery: null,
};

/** Changes a part of one amplifier's wiring; where nothing is left noted, it is noted as nothing. */
export function setWiring(amplifierId: string, part: Partial<Wiring>): void {
  const changed = (amplifier: JobAmplifier): JobAmplifier => {
    const wiring = { ...(amplifier.wiring ?? NOTHING_NOTED), ...part };
    const isNoted = Object.values(wiring).some((value) => value !== null);
    return { ...amplifier, wiring: isNoted ? wiring : null };
  };
  editJob((job) => ({
    ...job,
    amplifiers: job.amplifiers.map((one) => (one.id === amplifierId ? changed(one) : one)),
  }));
}

export function setTolerances(part: Partial<Job['tolerances']>): void {
  editJob((job) => ({ ...job, tolerances: { ...job.tolerances, ...part } }));
}
