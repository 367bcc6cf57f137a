import type { Job } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import type { Mark } from '../../marks/mark.ts';

export type SourcePart = 'source' | 'load' | 'sides' | 'turn-on';

/** In the order of the work; each is the kind of record that it makes. */
export const SOURCE_PARTS: readonly { id: SourcePart; name: string }[] = [
  { id: 'source', name: 'Volume steps' },
  { id: 'load', name: 'Load' },
  { id: 'sides', name: 'Left and right' },
  { id: 'turn-on', name: 'Turn-on' },
];

/** Oldest first. */
export function recordsOfPart<K extends SourcePart>(job: Job, kind: K): RecordOf<K>[] {
  return job.records.filter((one): one is RecordOf<K> => one.kind === kind);
}

/** What the newest record says. */
export function partMark(job: Job, part: SourcePart): Mark {
  const newest = recordsOfPart(job, part).at(-1);
  if (newest === undefined) return 'not-done';
  return newest.result.findings.length > 0 ? 'out-of-tolerance' : 'done';
}
