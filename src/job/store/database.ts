import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from 'idb';
import type { JobRecord, SignOff } from '../document.ts';
import type { RawDocument } from '../migrations.ts';
import type { StoredCalibration, StoredMicrophone, StoredSoundScale } from './job-store.ts';

/**
 * A job lies in three places: its body, which is replaced on every change, and its records and its sign-offs,
 * each under its own key, which are only ever added. So two tabs on one job cannot take one from each other.
 */
export interface KneepointSchema extends DBSchema {
  jobs: { key: string; value: StoredBody };
  records: { key: [string, string]; value: StoredRecord };
  signOffs: { key: [string, string]; value: StoredSignOff };
  calibrations: { key: string; value: StoredCalibration };
  microphones: { key: string; value: StoredMicrophone };
  soundScales: { key: string; value: StoredSoundScale };
}

export interface StoredBody {
  id: string;
  /** The document but for its records and sign-offs, of whatever version wrote it. */
  document: RawDocument;
}

export interface StoredRecord {
  jobId: string;
  recordId: string;
  /** When it was stored, so that records of one moment keep their order. */
  sequence: number;
  record: JobRecord;
}

export interface StoredSignOff {
  jobId: string;
  signOffId: string;
  sequence: number;
  signOff: SignOff;
}

export type Database = IDBPDatabase<KneepointSchema>;
type Names = StoreNames<KneepointSchema>[];
export type Writing = IDBPTransaction<KneepointSchema, Names, 'readwrite'>;

const DATABASE_VERSION = 3;

export async function openDatabase(name: string, onLost: (why: string) => void): Promise<Database> {
  const database: Database = await openDB<KneepointSchema>(name, DATABASE_VERSION, {
    upgrade(fresh, before) {
      if (before < 1) {
        fresh.createObjectStore('jobs', { keyPath: 'id' });
        fresh.createObjectStore('records', { keyPath: ['jobId', 'recordId'] });
        fresh.createObjectStore('calibrations', { keyPath: 'id' });
      }
      if (before < 2) {
        fresh.createObjectStore('microphones', { keyPath: 'id' });
        fresh.createObjectStore('soundScales', { keyPath: 'id' });
      }
      if (before < 3) fresh.createObjectStore('signOffs', { keyPath: ['jobId', 'signOffId'] });
    },
    blocking() {
      database.close();
      onLost('A newer Kneepoint was opened in another tab; reload this page to go on.');
    },
    terminated() {
      onLost('The browser closed its storage; export what is on screen, then reload this page.');
    },
  });
  return database;
}

/**
 * Runs `work` in one transaction and resolves when the browser reports it written to disk. If `work` fails,
 * nothing of it is kept.
 */
export async function writeWhole<T>(
  database: Database,
  names: Names,
  work: (writing: Writing) => Promise<T>,
): Promise<T> {
  const writing = database.transaction(names, 'readwrite', { durability: 'strict' });
  const settled = Promise.allSettled([writing.done]);
  let result: T;
  try {
    result = await work(writing);
  } catch (fault) {
    abortUnlessEnded(writing);
    await settled;
    throw fault;
  }
  await writing.done;
  return result;
}

/** A failed request may have ended the transaction already, which only trying can tell. */
function abortUnlessEnded(writing: Writing): void {
  try {
    writing.abort();
  } catch (fault) {
    if (!(fault instanceof DOMException && fault.name === 'InvalidStateError')) throw fault;
  }
}

/** All keys of one job's records, or of its sign-offs. */
export function keysOf(jobId: string): IDBKeyRange {
  return IDBKeyRange.bound([jobId], [jobId, []]);
}
