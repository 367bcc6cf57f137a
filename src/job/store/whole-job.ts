/** One job's reading and writing, each in one transaction. */
import type { Job, JobRecord, SignOff } from '../document.ts';
import { firstFault } from '../first-fault.ts';
import { readJob } from '../read-job.ts';
import { record as recordSchema } from '../records.ts';
import { JobRefused } from '../refused.ts';
import { hashedText } from '../sign-off/sign-job.ts';
import { signOff as signOffSchema } from '../sign-off/sign-off.ts';
import { writeJob } from '../write-job.ts';
import { type Database, keysOf, type Writing, writeWhole } from './database.ts';
import { sha256Hex } from './sha256.ts';
import { bodyOf, joined, partsOf, refuseNewer } from './stored-job.ts';

/** Where the parts of a job lie. */
const PARTS: ('jobs' | 'records' | 'signOffs')[] = ['jobs', 'records', 'signOffs'];

export async function readWhole(database: Database, id: string): Promise<Job> {
  const reading = database.transaction(PARTS, 'readonly');
  const body = await reading.objectStore('jobs').get(id);
  if (body === undefined) throw new JobRefused(`There is no job "${id}" in this browser.`);
  return joined(body, await partsOf(reading, id));
}

/** Puts the body; adds what is new among records and sign-offs. */
export async function saveWhole(database: Database, job: Job): Promise<Job> {
  // Validates as writing a file does, so that nothing is stored which cannot be read back.
  const stamped = readJob(writeJob({ ...job, updatedAt: new Date().toISOString() }));
  return writeWhole(database, PARTS, async (writing) => {
    const there = await writing.objectStore('jobs').get(stamped.id);
    if (there !== undefined) refuseNewer(there);
    await writing.objectStore('jobs').put(bodyOf(stamped));
    const known = await partsOf(writing, stamped.id);
    const recordIds = new Set(known.records.map(({ recordId }) => recordId));
    for (const record of stamped.records) {
      if (!recordIds.has(record.id)) await addRecord(writing, stamped.id, record);
    }
    const signOffIds = new Set(known.signOffs.map(({ signOffId }) => signOffId));
    for (const signOff of stamped.signOffs) {
      if (!signOffIds.has(signOff.id)) await addSignOff(writing, stamped.id, signOff);
    }
    return joined(bodyOf(stamped), await partsOf(writing, stamped.id));
  });
}

/** Adds one record, or nothing. */
export async function acceptWhole(database: Database, jobId: string, record: JobRecord): Promise<Job> {
  const parsed = recordSchema.safeParse(record);
  if (!parsed.success) {
    throw new JobRefused(`This record cannot be stored: ${firstFault(record, parsed.error)}.`);
  }
  return addingTo(database, jobId, async (writing) => {
    if ((await writing.objectStore('records').getKey([jobId, record.id])) !== undefined) {
      throw new JobRefused(`A record "${record.id}" is there already; records are never replaced.`);
    }
    await addRecord(writing, jobId, parsed.data);
  });
}

/** Adds one sign-off that hashes to what it says, or nothing. */
export async function signWhole(database: Database, jobId: string, signOff: SignOff): Promise<Job> {
  const parsed = signOffSchema.safeParse(signOff);
  if (!parsed.success) {
    throw new JobRefused(`This sign-off cannot be stored: ${firstFault(signOff, parsed.error)}.`);
  }
  // Before the transaction: one that waits for anything else than the database ends by itself.
  const found = await sha256Hex(hashedText(parsed.data));
  if (found !== signOff.sha256) {
    throw new JobRefused(`This sign-off says its SHA-256 is ${signOff.sha256}, and it is ${found}.`);
  }
  return addingTo(database, jobId, async (writing) => {
    if ((await writing.objectStore('signOffs').getKey([jobId, signOff.id])) !== undefined) {
      throw new JobRefused(`A sign-off "${signOff.id}" is there already; sign-offs are never replaced.`);
    }
    await addSignOff(writing, jobId, parsed.data);
  });
}

/** Adds to a job that is there, and stamps it. */
function addingTo(database: Database, jobId: string, add: (writing: Writing) => Promise<void>): Promise<Job> {
  return writeWhole(database, PARTS, async (writing) => {
    const body = await writing.objectStore('jobs').get(jobId);
    if (body === undefined) throw new JobRefused(`There is no job "${jobId}" in this browser.`);
    refuseNewer(body);
    await add(writing);
    const changed = { ...body, document: { ...body.document, updatedAt: new Date().toISOString() } };
    await writing.objectStore('jobs').put(changed);
    return joined(changed, await partsOf(writing, jobId));
  });
}

async function addSignOff(writing: Writing, jobId: string, signOff: SignOff): Promise<void> {
  const sequence = await writing.objectStore('signOffs').count(keysOf(jobId));
  await writing.objectStore('signOffs').add({ jobId, signOffId: signOff.id, sequence, signOff });
}

async function addRecord(writing: Writing, jobId: string, record: JobRecord): Promise<void> {
  const sequence = await writing.objectStore('records').count(keysOf(jobId));
  await writing.objectStore('records').add({ jobId, recordId: record.id, sequence, record });
}

/** Takes a job away, and all that was recorded on it. */
export function deleteWhole(database: Database, id: string): Promise<void> {
  return writeWhole(database, PARTS, async (writing) => {
    await writing.objectStore('jobs').delete(id);
    await writing.objectStore('records').delete(keysOf(id));
    await writing.objectStore('signOffs').delete(keysOf(id));
  });
}
