import type { Job, JobRecord } from '../document.ts';
import { firstFault } from '../first-fault.ts';
import { readJob } from '../read-job.ts';
import { record as recordSchema } from '../records.ts';
import { JobRefused } from '../refused.ts';
import { writeJob } from '../write-job.ts';
import { matchDevice } from './calibration-match.ts';
import {
  type Database,
  type KneepointSchema,
  openDatabase,
  recordsOf,
  type Writing,
  writeWhole,
} from './database.ts';
import { importWhole } from './import-job.ts';
import type { JobStore, StoreSnapshot } from './job-store.ts';
import { otherTabs } from './other-tabs.ts';
import { readSnapshot } from './snapshot.ts';
import { bodyOf, joined, refuseNewer } from './stored-job.ts';

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
    deleteJob: (id) =>
      changed(
        writeWhole(database, ['jobs', 'records'], async (writing) => {
          await writing.objectStore('jobs').delete(id);
          await writing.objectStore('records').delete(recordsOf(id));
        }),
      ),
    importJob: async (text) => changed(importWhole(database, readJob(text))),
    exportJob: async (id) => {
      const job = await readWhole(database, id);
      return { fileName: `${fileStem(job)}.job.json`, text: writeJob(job) };
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

async function readWhole(database: Database, id: string): Promise<Job> {
  const reading = database.transaction(['jobs', 'records'], 'readonly');
  const body = await reading.objectStore('jobs').get(id);
  if (body === undefined) throw new JobRefused(`There is no job "${id}" in this browser.`);
  return joined(body, await reading.objectStore('records').getAll(recordsOf(id)));
}

async function saveWhole(database: Database, job: Job): Promise<Job> {
  // Validates as writing a file does, so that nothing is stored which cannot be read back.
  const stamped = readJob(writeJob({ ...job, updatedAt: new Date().toISOString() }));
  return writeWhole(database, ['jobs', 'records'], async (writing) => {
    const there = await writing.objectStore('jobs').get(stamped.id);
    if (there !== undefined) refuseNewer(there);
    await writing.objectStore('jobs').put(bodyOf(stamped));
    const known = new Set(
      (await writing.objectStore('records').getAllKeys(recordsOf(stamped.id))).map(([, id]) => id),
    );
    for (const record of stamped.records) {
      if (!known.has(record.id)) await addRecord(writing, stamped.id, record);
    }
    return joined(bodyOf(stamped), await writing.objectStore('records').getAll(recordsOf(stamped.id)));
  });
}

async function acceptWhole(database: Database, jobId: string, record: JobRecord): Promise<Job> {
  const parsed = recordSchema.safeParse(record);
  if (!parsed.success) {
    throw new JobRefused(`This record cannot be stored: ${firstFault(record, parsed.error)}.`);
  }
  return writeWhole(database, ['jobs', 'records'], async (writing) => {
    const body = await writing.objectStore('jobs').get(jobId);
    if (body === undefined) throw new JobRefused(`There is no job "${jobId}" in this browser.`);
    refuseNewer(body);
    if ((await writing.objectStore('records').getKey([jobId, record.id])) !== undefined) {
      throw new JobRefused(`A record "${record.id}" is there already; records are never replaced.`);
    }
    await addRecord(writing, jobId, parsed.data);
    const changed = { ...body, document: { ...body.document, updatedAt: new Date().toISOString() } };
    await writing.objectStore('jobs').put(changed);
    return joined(changed, await writing.objectStore('records').getAll(recordsOf(jobId)));
  });
}

async function addRecord(writing: Writing, jobId: string, record: JobRecord): Promise<void> {
  const sequence = await writing.objectStore('records').count(recordsOf(jobId));
  await writing.objectStore('records').add({ jobId, recordId: record.id, sequence, record });
}

function fileStem(job: Job): string {
  const words = job.title.toLowerCase().match(/[a-z0-9]+/g) ?? [job.id];
  return words.join('-').slice(0, 60);
}
