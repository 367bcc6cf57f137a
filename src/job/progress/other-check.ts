import { terminalsPoint } from '../check-task.ts';
import type { Job } from '../document.ts';
import { keptFigure } from '../kept-record.ts';
import type { RecordOf } from '../records.ts';
import { JobRefused } from '../refused.ts';
import { isSameTarget } from './same-target.ts';

type Part = RecordOf<'check'>['result']['parts'][number];

/** Why a check by the run track no longer speaks for the job: the plan asks for something else now. One sentence, or `null`. */
export function otherCheck(job: Job, { result }: RecordOf<'check'>): string | null {
  for (const part of result.parts) {
    if (part.channel === 'cabin') continue;
    const why = otherPart(job, part);
    if (why !== null) return why;
  }
  return null;
}

function otherPart(job: Job, part: Part): string | null {
  const channel = job.channels.find(({ id }) => id === part.channel);
  if (channel === undefined) return 'The plan no longer has a channel that was checked.';
  const { limits } = part;
  const wants = [
    ['highPassHz', channel.band.highPassHz, 'another filter'],
    ['lowPassHz', channel.band.lowPassHz, 'another filter'],
    ['toleranceDb', channel.toleranceDb, 'another tolerance'],
    ['cornerPercent', job.tolerances.cornerPercent, 'another tolerance'],
    ['leastBelowTargetDb', job.tolerances.noiseDb, 'another tolerance'],
  ] as const;
  const other = wants.find(([name, now]) => isOther(limits[name], now));
  if (other !== undefined) return `The job asks for ${other[2]} than when this was checked.`;
  return isOtherTarget(job, part) ? 'The plan’s target is not what it was when this was checked.' : null;
}

/** A limit that was not held against the part is none. */
function isOther(then: unknown, now: number | null): boolean {
  return then !== undefined && then !== (now === null ? null : keptFigure(now));
}

function isOtherTarget(job: Job, { channel, limits, playedDbfs }: Part): boolean {
  const then = limits.targetVolts;
  if (typeof then !== 'number' || playedDbfs === null) return false;
  return !isSameTarget(then * 10 ** (-playedDbfs / 20), targetNow(job, channel));
}

/** Volts that a tone of full scale should read; `null` where the plan has no target any more. */
function targetNow(job: Job, channelId: string): number | null {
  try {
    const { targetVolts, overlapDb } = terminalsPoint(job, channelId);
    return targetVolts === null ? null : targetVolts * 10 ** (overlapDb / 20);
  } catch (fault) {
    if (fault instanceof JobRefused) return null;
    throw fault;
  }
}
