import { JOB_VERSION, type Job, type JobRecord } from '../document.ts';
import type { RawDocument } from '../migrations.ts';
import { parseJob } from '../read-job.ts';
import { JobRefused } from '../refused.ts';
import type { StoredBody, StoredRecord } from './database.ts';
import type { JobSummary } from './job-store.ts';

export function bodyOf(job: Job): StoredBody {
  const { records: _, ...document } = job;
  return { id: job.id, document };
}

/** In the order in which they were stored. */
function inOrder(stored: readonly StoredRecord[]): JobRecord[] {
  return [...stored]
    .sort((a, b) => a.sequence - b.sequence || (a.recordId < b.recordId ? -1 : 1))
    .map(({ record }) => record);
}

/** @throws JobRefused where the body cannot be read. */
export function joined(body: StoredBody, stored: readonly StoredRecord[]): Job {
  return parseJob({ ...body.document, records: inOrder(stored) });
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

export function summaryOf(body: StoredBody, stored: readonly StoredRecord[]): JobSummary {
  return {
    id: body.id,
    title: textOf(body.document, 'title') || body.id,
    vehicle: textOf(body.document, 'vehicle'),
    updatedAt: textOf(body.document, 'updatedAt'),
    recordCount: stored.length,
    refused: refusalOf(body, stored),
  };
}

function textOf(document: RawDocument, key: string): string {
  const value = document[key];
  return typeof value === 'string' ? value : '';
}

function refusalOf(body: StoredBody, stored: readonly StoredRecord[]): string | null {
  try {
    joined(body, stored);
    return null;
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}
