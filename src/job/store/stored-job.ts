import { JOB_VERSION, type Job } from '../document.ts';
import type { RawDocument } from '../migrations.ts';
import { parseJob } from '../read-job.ts';
import { JobRefused } from '../refused.ts';
import { keysOf, type StoredBody, type StoredRecord, type StoredSignOff } from './database.ts';
import type { JobSummary } from './job-store.ts';

/** What of a job is only ever added to. */
export interface StoredParts {
  records: readonly StoredRecord[];
  signOffs: readonly StoredSignOff[];
}

/** A transaction, of either kind, that holds both. */
interface PartsTransaction {
  objectStore(name: 'records'): { getAll(keys: IDBKeyRange): Promise<StoredRecord[]> };
  objectStore(name: 'signOffs'): { getAll(keys: IDBKeyRange): Promise<StoredSignOff[]> };
}

export async function partsOf(transaction: PartsTransaction, jobId: string): Promise<StoredParts> {
  const records = await transaction.objectStore('records').getAll(keysOf(jobId));
  const signOffs = await transaction.objectStore('signOffs').getAll(keysOf(jobId));
  return { records, signOffs };
}

export function bodyOf(job: Job): StoredBody {
  const { records: _, signOffs: __, exportedSha256: ___, ...document } = job;
  return { id: job.id, document };
}

/** In the order in which they were stored. */
function inOrder<T extends { sequence: number }>(stored: readonly T[], idOf: (one: T) => string): T[] {
  return [...stored].sort((a, b) => a.sequence - b.sequence || (idOf(a) < idOf(b) ? -1 : 1));
}

/** @throws JobRefused where the body cannot be read. */
export function joined(body: StoredBody, { records, signOffs }: StoredParts): Job {
  return parseJob({
    ...body.document,
    records: inOrder(records, (one) => one.recordId).map(({ record }) => record),
    signOffs: inOrder(signOffs, (one) => one.signOffId).map(({ signOff }) => signOff),
  });
}

/** @throws JobRefused where a newer Kneepoint wrote it: what is not understood must not be written over. */
export function refuseNewer(body: StoredBody): void {
  const { version } = body.document;
  if (typeof version === 'number' && version > JOB_VERSION) {
    throw new JobRefused(
      `The stored job "${body.id}" is of version ${version}, made by a newer Kneepoint; it is kept as it is, and this one cannot change it.`,
    );
  }
}

export function summaryOf(body: StoredBody, stored: StoredParts): JobSummary {
  return {
    id: body.id,
    title: textOf(body.document, 'title') || body.id,
    vehicle: textOf(body.document, 'vehicle'),
    updatedAt: textOf(body.document, 'updatedAt'),
    recordCount: stored.records.length,
    refused: refusalOf(body, stored),
  };
}

function textOf(document: RawDocument, key: string): string {
  const value = document[key];
  return typeof value === 'string' ? value : '';
}

function refusalOf(body: StoredBody, stored: StoredParts): string | null {
  try {
    joined(body, stored);
    return null;
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}
