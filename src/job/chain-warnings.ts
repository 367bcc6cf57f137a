/** What is to be said of a job's chain beyond its single channels. */
import { type Pickup, pickupWarnings } from '../plan/pickup/pickup-warnings.ts';
import type { Job } from './document.ts';
import { outputsFree, outputsUsed } from './outputs.ts';

export interface ChainWarning {
  kind: string;
  at: 'source' | 'converter' | 'amplifier';
  /** Which amplifier; `null` at source and converter. */
  amplifierId: string | null;
  /** True where the chain must not be used so. */
  grave: boolean;
  sentence: string;
}

/** The source's ceiling as the Source station last recorded it at the radio, volts RMS; `null` before that. */
export function recordedCeilingVolts({ records }: Pick<Job, 'records'>): number | null {
  const atRadio = records.flatMap((record) =>
    record.kind === 'source' && record.result.point === 'radio' ? [record.result] : [],
  );
  const last = atRadio.at(-1);
  return last === undefined ? null : (last.kneeVolts ?? last.ceilingVolts);
}

/** The way from the source to the amplifiers' inputs: as noted, or else as recorded. */
export function pickupOf(job: Pick<Job, 'source' | 'converter' | 'records'>): Pickup {
  const { pickup, loadResistors, highestVolts } = job.source;
  return {
    at: pickup,
    loadResistors,
    highestVolts: highestVolts ?? recordedCeilingVolts(job),
    converter: job.converter,
  };
}

function tooFewOutputs(job: Job): ChainWarning[] {
  return job.amplifiers
    .filter(({ id }) => outputsFree(job, id) < 0)
    .map(({ id, name, channelCount }) => ({
      kind: 'more-channels-than-outputs',
      at: 'amplifier' as const,
      amplifierId: id,
      grave: true,
      sentence: `${name} has ${channelCount} ${channelCount === 1 ? 'channel' : 'channels'} and ${outputsUsed(job, id)} are used, a bridged one counting twice: give it more, or move a channel to another amplifier.`,
    }));
}

/** In the order of the chain. */
export function chainWarnings(job: Job): ChainWarning[] {
  const ofPickup = pickupWarnings(pickupOf(job)).map((warning) => ({ ...warning, amplifierId: null }));
  return [...ofPickup, ...tooFewOutputs(job)];
}
