import { type Database, recordsOf, type StoredRecord } from './database.ts';
import type { JobSummary, StoreSnapshot } from './job-store.ts';
import { summaryOf } from './stored-job.ts';

export async function readSnapshot(database: Database): Promise<Omit<StoreSnapshot, 'trouble'>> {
  const reading = database.transaction(['jobs', 'records', 'calibrations'], 'readonly');
  const bodies = await reading.objectStore('jobs').getAll();
  const jobs: JobSummary[] = [];
  for (const body of bodies) {
    const records: StoredRecord[] = await reading.objectStore('records').getAll(recordsOf(body.id));
    jobs.push(summaryOf(body, records));
  }
  const calibrations = await reading.objectStore('calibrations').getAll();
  return {
    jobs: jobs.sort((a, b) => Date.parse(b.updatedAt) - Date.parse(a.updatedAt)),
    calibrations: calibrations.sort((a, b) => Date.parse(b.at) - Date.parse(a.at)),
  };
}
