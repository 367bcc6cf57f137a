import type { CrossoverTask } from '../procedure/crossover/crossover.ts';
import type { Job } from './document.ts';

/** What the Crossover station is asked by a job: every channel with what its filters should be. */
export function crossoverTask(job: Job): CrossoverTask {
  return {
    channels: job.channels.map(({ id, name, fedBy, band, slopes }) => ({ id, name, fedBy, band, slopes })),
    cornerPercent: job.tolerances.cornerPercent,
    ahead: job.source.pickup === 'speaker-level' && job.converter === null ? 'speaker-level' : 'line-level',
  };
}
