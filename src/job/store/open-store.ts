import type { Job, JobRecord, SignOff } from '../document.ts';
import { firstFault } from '../first-fault.ts';
import { readJob } from '../read-job.ts';
import { record as recordSchema } from '../records.ts';
import { JobRefused } from '../refused.ts';
import { readUnaltered, writeSealed } from '../sign-off/sealed-file.ts';
import { hashedText } from '../sign-off/sign-job.ts';
import { signOff as signOffSchema } from '../sign-off/sign-off.ts';
import { writeJob } from '../write-job.ts';
import { matchDevice } from './calibration-match.ts';
import {
  type Database,
  type KneepointSchema,
  keysOf,
  openDatabase,
  type Writing,
  writeWhole,
} from './database.ts';
import { importWhole } from './import-job.ts';
import type { JobStore, StoreSnapshot } from './job-store.ts';
import { otherTabs } from './other-tabs.ts';
import { sha256Hex } from './sha256.ts';
import { readSnapshot } from './snapshot.ts';
import { bodyOf, joined, partsOf, refuseNewer } from './stored-job.ts';

/**
 * Opens the browser's store of jobs.
 *
 * @throws Error with a sentence where the browser offers no storage, or a newer Kneepoint has stored here.
 */
export async function openStore(name = 'kneepoint'): Promise<JobStore> {
  const view = observed();
  const database = await opened(name, view.lose);
  const refresh = async (): Promise<void> => view.show(await readSnapshot(database));
  const tabs = otherTabs(name, () => {
    refresh().catch((fault: unknown) => view.lose(`What is stored cannot be read: ${String(fault)}`));
  });
  const changed = async <T>(work: Promise<T>): Promise<T> => {
    const result = await work;
    tabs.tell();
    await refresh();
    return result;
  };
  await refresh();
  return {
    subscribe: view.subscribe,
    getSnapshot: view.getSnapshot,
    openJob: (id) => readWhole(database, id),
    saveJob: (job) => changed(saveWhole(database, job)),
    acceptRecord: (jobId, record) => changed(acceptWhole(database, jobId, record)),
    addSignOff: (jobId, signOff) => changed(signWhole(database, jobId, signOff)),
    deleteJob: (id) =>
      changed(
        writeWhole(database, PARTS, async (writing) => {
          await writing.objectStore('jobs').delete(id);
          await writing.objectStore('records').delete(keysOf(id));
          await writing.objectStore('signOffs').delete(keysOf(id));
        }),
      ),
    importJob: async (text) => changed(importWhole(database, await readUnaltered(text, sha256Hex))),
    exportJob: async (id) => {
      const job = await readWhole(database, id);
      return { fileName: `${fileStem(job)}.job.json`, text: await writeSealed(job, sha256Hex) };
    },
    addCalibration: (calibration) => changed(addTo(database, 'calibrations', calibration)),
    calibrationFor: (device, inputChannel) =>
      matchDevice(view.getSnapshot().calibrations, device, inputChannel),
    addMicrophone: (microphone) => changed(addTo(database, 'microphones', microphone)),
    microphoneFor: (device, inputChannel) =>
      matchDevice(view.getSnapshot().microphones, device, inputChannel),
    addSoundScale: (scale) => changed(addTo(database, 'soundScales', scale)),
    soundScaleFor: (device, inputChannel) =>
      matchDevice(view.getSnapshot().soundScales, device, inputChannel),
    close: () => {
      tabs.close();
      database.close();
    },
  };
}

async function opened(name: string, onLost: (why: string) => void): Promise<Database> {
  if (typeof indexedDB === 'undefined') {
    throw new Error(
      'This browser offers no storage for jobs; use a current browser outside its private mode.',
    );
  }
  try {
    return await openDatabase(name, onLost);
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'VersionError') {
      throw new Error('The jobs here were stored by a newer Kneepoint; reload the page to get it.', {
        cause: fault,
      });
    }
    throw new Error(`This browser refuses to store jobs: ${String(fault)}`, { cause: fault });
  }
}

function observed() {
  let snapshot: StoreSnapshot = {
    jobs: [],
    calibrations: [],
    microphones: [],
    soundScales: [],
    trouble: null,
  };
  const listeners = new Set<() => void>();
  const replace = (next: StoreSnapshot): void => {
    snapshot = next;
    for (const listener of listeners) listener();
  };
  return {
    getSnapshot: () => snapshot,
    subscribe(listener: () => void): () => void {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    },
    show: (next: Omit<StoreSnapshot, 'trouble'>) => replace({ ...next, trouble: snapshot.trouble }),
    lose: (trouble: string) => replace({ ...snapshot, trouble }),
  };
}

/** Beside what is there; what has the same id is refused, not replaced. */
function addTo<N extends 'calibrations' | 'microphones' | 'soundScales'>(
  database: Database,
  name: N,
  value: KneepointSchema[N]['value'],
): Promise<void> {
  return writeWhole(database, [name], async (writing) => {
    await writing.objectStore(name).add(value);
  });
}

/** Where the parts of a job lie. */
const PARTS: ('jobs' | 'records' | 'signOffs')[] = ['jobs', 'records', 'signOffs'];

async function readWhole(database: Database, id: string): Promise<Job> {
  const reading = database.transaction(PARTS, 'readonly');
  const body = await reading.objectStore('jobs').get(id);
  if (body === undefined) throw new JobRefused(`There is no job "${id}" in this browser.`);
  return joined(body, await partsOf(reading, id));
}

async function saveWhole(database: Database, job: Job): Promise<Job> {
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

async function acceptWhole(database: Database, jobId: string, record: JobRecord): Promise<Job> {
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

async function signWhole(database: Database, jobId: string, signOff: SignOff): Promise<Job> {
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

function fileStem(job: Job): string {
  const words = job.title.toLowerCase().match(/[a-z0-9]+/g) ?? [job.id];
  return words.join('-').slice(0, 60);
}
