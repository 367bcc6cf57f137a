import type { Checkpoint } from '../../job/progress/checkpoint.ts';
import type { Mark } from '../marks/mark.ts';

/** A station's mark from its checkpoints: the worst news first, then how many are done. */
export function stationMark(points: readonly Checkpoint[]): Mark {
  const marks = points.map((point) => point.mark);
  if (marks.includes('out-of-tolerance')) return 'out-of-tolerance';
  if (marks.includes('stale')) return 'stale';
  if (marks.length > 0 && marks.every((mark) => mark === 'done')) return 'done';
  return marks.includes('done') ? 'under-way' : 'not-done';
}

export function doneOf(points: readonly Checkpoint[]): string {
  return `${points.filter((point) => point.mark === 'done').length} of ${points.length} done`;
}
