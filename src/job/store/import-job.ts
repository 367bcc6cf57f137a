import type { Job } from '../document.ts';
import { JobRefused } from '../refused.ts';
import { writeJob } from '../write-job.ts';
import { type Database, type Writing, writeWhole } from './database.ts';
import type { ImportedJob } from './job-store.ts';
import { bodyOf, joined, partsOf } from './stored-job.ts';

/**
 * Stores a job beside whatever is there. Under its own id if that is free; if the very same job is there
 * already, nothing is added; otherwise under the next free id, so that neither takes the other's place.
 */
export function importWhole(database: Database, job: Job): Promise<ImportedJob> {
  return writeWhole(database, ['jobs', 'records', 'signOffs'], async (writing) => {
    for (let copy = 1; ; copy++) {
      const candidate =
        copy === 1 ? job : { ...job, id: `${job.id}-${copy}`, title: `${job.title} (${copy})` };
      const there = await storedText(writing, candidate.id);
      if (there === writeJob(candidate)) return { job: candidate, outcome: 'already-here' };
      if (there !== undefined) continue;
      await writing.objectStore('jobs').add(bodyOf(candidate));
      for (const [sequence, record] of candidate.records.entries()) {
        await writing.objectStore('records').add({
          jobId: candidate.id,
          recordId: record.id,
          sequence,
          record,
        });
      }
      for (const [sequence, signOff] of candidate.signOffs.entries()) {
        await writing.objectStore('signOffs').add({
          jobId: candidate.id,
          signOffId: signOff.id,
          sequence,
          signOff,
        });
      }
      return { job: candidate, outcome: copy === 1 ? 'added' : 'kept-both' };
    }
  });
}

/** The stored job's text; `null` where it is there but cannot be read, `undefined` where the id is free. */
async function storedText(writing: Writing, id: string): Promise<string | null | undefined> {
  const body = await writing.objectStore('jobs').get(id);
  if (body === undefined) return undefined;
  const parts = await partsOf(writing, id);
  try {
    return writeJob(joined(body, parts));
  } catch (fault) {
    if (fault instanceof JobRefused) return null;
    throw fault;
  }
}
