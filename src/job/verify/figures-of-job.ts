import type { Job } from '../document.ts';
import { figuresOfRecord } from './figures-of-record.ts';
import type { RecordedFigure } from './recorded-figure.ts';

/**
 * Every figure that a job's records hold, in the order in which they were first recorded: the newest of each, by the
 * station and by the check apart, since one may be comparable where the other is not.
 */
export function figuresOfJob(job: Job): RecordedFigure[] {
  const parts = [...job.channels, ...job.amplifiers];
  const nameOf = (id: string) => (parts.find((part) => part.id === id)?.name ?? id).toLowerCase();
  const newest = new Map<string, RecordedFigure>();
  for (const record of job.records) {
    for (const figure of figuresOfRecord(record, nameOf)) newest.set(`${figure.key} ${figure.kind}`, figure);
  }
  return [...newest.values()];
}
