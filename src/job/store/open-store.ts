import type { Job } from '../document.ts';
import { readUnaltered, writeSealed } from '../sign-off/sealed-file.ts';
import { matchDevice } from './calibration-match.ts';
import { type Database, type KneepointSchema, openDatabase, writeWhole } from './database.ts';
import { importWhole } from './import-job.ts';
import type { JobStore, StoreSnapshot } from './job-store.ts';
import { otherTabs } from './other-tabs.ts';
import { sha256Hex } from './sha256.ts';
import { readSnapshot } from './snapshot.ts';
import { acceptWhole, deleteWhole, readWhole, saveWhole, signWhole } from './whole-job.ts';

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
    deleteJob: (id) => changed(deleteWhole(database, id)),
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

function fileStem(job: Job): string {
  const words = job.title.toLowerCase().match(/[a-z0-9]+/g) ?? [job.id];
  return words.join('-').slice(0, 60);
}
