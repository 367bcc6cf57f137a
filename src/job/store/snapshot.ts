import type { Database } from './database.ts';
import type { JobSummary, OfDevice, StoreSnapshot } from './job-store.ts';
import { partsOf, summaryOf } from './stored-job.ts';

export async function readSnapshot(database: Database): Promise<Omit<StoreSnapshot, 'trouble'>> {
  const names = ['jobs', 'records', 'signOffs', 'calibrations', 'microphones', 'soundScales'] as const;
  const reading = database.transaction(names, 'readonly');
  const bodies = await reading.objectStore('jobs').getAll();
  const jobs: JobSummary[] = [];
  for (const body of bodies) {
    jobs.push(summaryOf(body, await partsOf(reading, body.id)));
  }
  return {
    jobs: jobs.sort((a, b) => Date.parse(b.updatedAt) - Date.parse(a.updatedAt)),
    calibrations: newestFirst(await reading.objectStore('calibrations').getAll()),
    microphones: newestFirst(await reading.objectStore('microphones').getAll()),
    soundScales: newestFirst(await reading.objectStore('soundScales').getAll()),
  };
}

function newestFirst<T extends OfDevice>(all: T[]): T[] {
  return all.sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}
