import { channelOf } from '../channel-chain.ts';
import type { Job } from '../document.ts';
import { planJobChannel } from '../job-plan.ts';

/** Of the knee's standard uncertainty: 95 % of a normal distribution lies above (JCGM 100 6.2, k = 2). */
const COVERAGE = 2;

/**
 * How far a channel may be raised above what its last gain record set: to its target, or to its knee where that is
 * lower, less the knee's uncertainty. Never below 0; `null` where no gain is recorded.
 *
 * @throws JobRefused where the job has no such channel or its chain cannot exist
 */
export function roomDb(job: Job, channelId: string): number | null {
  channelOf(job, channelId);
  const last = job.records.findLast(
    (record) => record.kind === 'gain' && record.result.channelId === channelId,
  );
  if (last?.kind !== 'gain') return null;
  const { targetVolts, toneVolts } = planJobChannel(job, channelId);
  if (targetVolts === null || toneVolts === null) return null;
  const { volts, knee } = last.result;
  // What the setting tone read, carried to the level at which the target counts.
  const setVolts = (volts * targetVolts) / toneVolts;
  const toTarget = 20 * Math.log10(targetVolts / setVolts);
  const kneeVolts = knee?.volts ?? null;
  const toKnee =
    kneeVolts === null || knee === null
      ? Number.POSITIVE_INFINITY
      : 20 * Math.log10(kneeVolts / setVolts) - COVERAGE * knee.uncertaintyDb;
  return Math.max(0, Math.min(toTarget, toKnee));
}
