import { type Database, recordsOf, type StoredRecord } from './database.ts';
import type { JobSummary, OfDevice, StoreSnapshot } from './job-store.ts';
import { summaryOf } from './stored-job.ts';

export async function readSnapshot(database: Database): Promise<Omit<StoreSnapshot, 'trouble'>> {
  const names = ['jobs', 'records', 'calibrations', 'microphones', 'soundScales'] as const;
  const reading = database.transaction(names, 'readonly');
  const bodies = await reading.objectStore('jobs').getAll();
  const jobs: JobSummary[] = [];
  for (const body of bodies) {
    const records: StoredRecord[] = await reading.objectStore('records').getAll(recordsOf(body.id));
    jobs.push(summaryOf(body, records));
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
