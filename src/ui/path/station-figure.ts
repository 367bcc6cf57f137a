import { fixed } from '../../job/format/number.ts';
import { hertz } from '../../job/format/quantity.ts';
import type { Checkpoint } from '../../job/progress/checkpoint.ts';
import type { JobRecord } from '../../job/records.ts';
import { tellingSide } from '../session/crossover-progress.ts';
import { doneOf } from './station-mark.ts';

/** The newest record among the checkpoints. */
export function newestOf(points: readonly Checkpoint[]): JobRecord | null {
  const records = points.flatMap((point) => (point.record === null ? [] : [point.record]));
  return records.reduce<JobRecord | null>(
    (newest, record) => (newest === null || record.at > newest.at ? record : newest),
    null,
  );
}

/** The figure that a station's plate shows: what its newest record came to, or how much is done. */
export function stationFigure(points: readonly Checkpoint[], newest: JobRecord | null): string {
  const clean = points.map((point) => point.record).find((record) => record?.kind === 'source');
  if (clean?.kind === 'source') return `clean to step ${clean.result.highestCleanStep}`;
  if (newest?.kind === 'crossover') {
    const { found } = tellingSide(newest.result, (side) => side.inside === false);
    if (found !== null) return `${hertz(found.cutoffHz)}, ${doneOf(points)}`;
  }
  if (newest?.kind === 'level' && newest.result.worstDifferenceDb !== null) {
    return `${fixed(newest.result.worstDifferenceDb, 1)} dB apart`;
  }
  if (newest?.kind === 'noise' && newest.result.belowTargetDb !== null) {
    return `${fixed(newest.result.belowTargetDb, 0)} dB below target`;
  }
  return doneOf(points);
}
