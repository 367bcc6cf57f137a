import type { LevelPair } from '../../procedure/level/level.ts';
import type { Job, JobChannel } from '../document.ts';

/**
 * Channels that should play alike: one fed left, one fed right, of one band, on one amplifier, wired alike. Where
 * several fit, the names decide (front left and front right), else the job's order.
 */
export function pairsOf(job: Pick<Job, 'channels'>): LevelPair[] {
  const rights = job.channels.filter((channel) => channel.fedBy === 'right');
  const taken = new Set<string>();
  return job.channels
    .filter((channel) => channel.fedBy === 'left')
    .flatMap((left) => {
      const free = rights.filter((right) => !taken.has(right.id) && isAlike(left, right));
      const partner = free.find((right) => stem(right) === stem(left)) ?? free[0];
      if (partner === undefined) return [];
      taken.add(partner.id);
      return [{ leftId: left.id, rightId: partner.id }];
    });
}

function isAlike(left: JobChannel, right: JobChannel): boolean {
  return (
    left.amplifierId === right.amplifierId &&
    left.bridged === right.bridged &&
    left.band.highPassHz === right.band.highPassHz &&
    left.band.lowPassHz === right.band.lowPassHz
  );
}

/** The id without its side. */
function stem({ id }: JobChannel): string {
  return id
    .split('-')
    .filter((word) => word !== 'left' && word !== 'right')
    .join('-');
}
