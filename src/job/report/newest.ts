/** Which records a report stands on: of everything recorded, the newest about each thing. */
import type { Job } from '../document.ts';
import type { JobRecord, RecordKind, RecordOf } from '../records.ts';

function recordsOf<K extends RecordKind>(job: Job, kind: K): RecordOf<K>[] {
  return job.records.filter((record): record is RecordOf<K> => record.kind === kind);
}

/** The newest of each subject, in the order in which the subjects were first recorded. */
export function newestOf<K extends RecordKind>(
  job: Job,
  kind: K,
  subjectOf: (record: RecordOf<K>) => string,
): RecordOf<K>[] {
  const newest = new Map<string, RecordOf<K>>();
  for (const record of recordsOf(job, kind)) newest.set(subjectOf(record), record);
  return [...newest.values()];
}

/** As the job lists its channels; those that it no longer has come last. */
export function inChannelOrder<T>(job: Job, list: readonly T[], idOf: (one: T) => string | null): T[] {
  const place = (one: T) => {
    const at = job.channels.findIndex(({ id }) => id === idOf(one));
    return at === -1 ? job.channels.length : at;
  };
  return list.toSorted((a, b) => place(a) - place(b));
}

export function channelName(job: Job, id: string | null): string {
  if (id === null) return 'whole vehicle';
  return job.channels.find((channel) => channel.id === id)?.name ?? `${id} (no longer in the plan)`;
}

export function amplifierName(job: Job, id: string): string {
  return job.amplifiers.find((one) => one.id === id)?.name ?? `${id} (no longer in the plan)`;
}

/** How the report calls a record: its place among all of the job's, from 1. */
export function recordNumber({ records }: Pick<Job, 'records'>, record: JobRecord): number {
  return records.indexOf(record) + 1;
}
