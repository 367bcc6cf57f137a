import { median, robustSpread } from '../statistics/median.ts';
import { kneeFromTrace, type TraceOptions } from './knee-from-trace.ts';
import type { FoundKnee, KneePoint } from './knee-point.ts';

/** What a clipped reading told of the ceiling. */
export interface OverdrivenPoint {
  levelDbfs: number;
  overdriveDb: number;
  kneeDbfs: number;
}

export interface KneeFinding extends FoundKnee {
  /** `overdrive`: from the waves of clipped readings. `trace`: from distortion against level. */
  from: 'overdrive' | 'trace';
  /** What the other way of finding it says, relative to this one, dB; `null` where only one way spoke. */
  crossCheckDb: number | null;
  /** True where both ways spoke and lie further apart than their uncertainties allow. */
  disputed: boolean;
}

const SEVERAL = 3;
/** What the clipping verdict promises for an ideal limiter; a scatter smaller than this is luck. */
const OVERDRIVE_FLOOR_DB = 0.02;
/** Two knees agree within three joint standard uncertainties, and a rounding of the corner by a tenth. */
const AGREE_SIGMAS = 3;
const AGREE_FLOOR_DB = 0.1;
/** A trace whose implied knee moves this much per e-fold of distortion is no sharp limiter's. */
const SOFT_DB = 0.15;

/** The ceiling by the waves of several clipped readings; `null` with fewer than three. */
function kneeFromOverdrive(readings: readonly OverdrivenPoint[]): FoundKnee | null {
  if (readings.length < SEVERAL) return null;
  const knees = readings.map((r) => r.kneeDbfs);
  return {
    levelDbfs: median(knees),
    uncertaintyDb: Math.hypot(robustSpread(knees), OVERDRIVE_FLOOR_DB),
  };
}

/** Whether two independent findings may be of one and the same knee. */
export function kneesAgree(a: FoundKnee, b: FoundKnee): boolean {
  const differenceDb = Math.abs(a.levelDbfs - b.levelDbfs);
  return differenceDb <= AGREE_SIGMAS * Math.hypot(a.uncertaintyDb, b.uncertaintyDb) + AGREE_FLOOR_DB;
}

/**
 * The knee of one turn: from clipped readings where several spoke, from the trace otherwise, each checked by
 * the other. Where they disagree their distance counts as uncertainty. A soft ceiling has no overdrive to read,
 * so there the trace alone counts. `null` where neither saw a knee.
 *
 * Whose ceiling it is must have been settled before (`whoseClipping`): an earlier stage's looks alike.
 */
export function findKnee(
  points: readonly KneePoint[],
  overdriven: readonly OverdrivenPoint[],
  options: TraceOptions = {},
): KneeFinding | null {
  const direct = kneeFromOverdrive(overdriven);
  const seen = kneeFromTrace(points, options);
  if (seen !== null && (direct === null || seen.softness > SOFT_DB)) {
    const { levelDbfs, uncertaintyDb } = seen;
    return { levelDbfs, uncertaintyDb, from: 'trace', crossCheckDb: null, disputed: false };
  }
  if (direct === null) return null;
  const crossCheckDb = seen === null ? null : seen.levelDbfs - direct.levelDbfs;
  const disputed = seen !== null && !kneesAgree(direct, seen);
  return {
    levelDbfs: direct.levelDbfs,
    uncertaintyDb: disputed
      ? Math.max(direct.uncertaintyDb, Math.abs(crossCheckDb ?? 0))
      : direct.uncertaintyDb,
    from: 'overdrive',
    crossCheckDb,
    disputed,
  };
}
