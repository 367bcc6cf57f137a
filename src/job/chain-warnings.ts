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

/** The way from the source to the amplifiers' inputs, as the plan wants it. */
export function pickupOf({ source, converter }: Pick<Job, 'source' | 'converter'>): Pickup {
  const { pickup, loadResistors, highestVolts } = source;
  return { at: pickup, loadResistors, highestVolts, converter };
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
