import type { FoundKnee } from './found-knee.ts';
import type { ClippingStage, GainReading, Knee, OverdrivenReading, TracePoint } from './gain.ts';
import { kneeFromTrace } from './knee-from-trace.ts';
import { median, robustSpread } from './median.ts';

const OVERDRIVEN_LIMIT = 60;
const OVERDRIVEN_CELL_DB = 0.1;
const OVERDRIVEN_PER_CELL = 5;
const SEVERAL = 3;
/** What the clipping verdict promises for an ideal limiter; a scatter smaller than this is luck. */
const OVERDRIVE_FLOOR_DB = 0.02;
/** Clipped readings must cover this much level before they can tell one stage from another. */
const STAGE_SPAN_DB = 0.5;
/** Two knees agree within three joint standard uncertainties, and a rounding of the corner by a tenth. */
const AGREE_SIGMAS = 3;
const AGREE_FLOOR_DB = 0.1;

/** The memory of clipped readings with this one added. A resting control does not push the others out. */
export function withOverdriven(kept: OverdrivenReading[], reading: GainReading): OverdrivenReading[] {
  const { overdriveDb, kneeDbfs, verdict } = reading.clipping;
  if (verdict !== 'clipped' || overdriveDb === null || kneeDbfs === null || reading.levelDbfs === null) {
    return kept;
  }
  const fresh = { levelDbfs: reading.levelDbfs, overdriveDb, kneeDbfs };
  const cell = cellOf(fresh);
  const sameCell = kept.filter((one) => cellOf(one) === cell);
  const oldest = sameCell.length >= OVERDRIVEN_PER_CELL ? sameCell[0] : undefined;
  return [...kept.filter((one) => one !== oldest), fresh].slice(-OVERDRIVEN_LIMIT);
}

function cellOf(reading: OverdrivenReading): number {
  return Math.floor(reading.levelDbfs / OVERDRIVEN_CELL_DB);
}

/**
 * Whose ceiling the clipped readings show. A limiter at this stage holds its knee while the level is turned;
 * one ahead of it is turned up and down with everything else, so that its apparent knee follows the level.
 * The slope of knee against level is 0 for the one and 1 for the other.
 */
export function clippingStage(readings: readonly OverdrivenReading[]): ClippingStage | null {
  if (readings.length < SEVERAL) return null;
  const levels = readings.map((r) => r.levelDbfs);
  if (Math.max(...levels) - Math.min(...levels) < STAGE_SPAN_DB) return null;
  const meanLevel = mean(levels);
  const meanKnee = mean(readings.map((r) => r.kneeDbfs));
  let joint = 0;
  let square = 0;
  for (const { levelDbfs, kneeDbfs } of readings) {
    joint += (levelDbfs - meanLevel) * (kneeDbfs - meanKnee);
    square += (levelDbfs - meanLevel) ** 2;
  }
  return joint / square > 0.5 ? 'earlier' : 'this';
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function kneeFromOverdrive(readings: readonly OverdrivenReading[]): FoundKnee | null {
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
 * The knee of the running turn: from clipped readings where several spoke, from the trace otherwise, each
 * checked by the other. Where they disagree their distance counts as uncertainty. `null` where neither saw
 * one, and where an earlier stage is the one that clips.
 *
 * @param voltsOffsetDb dB by which `20 lg volts` stands above `levelDbfs`; `null` without volts.
 */
export function findKnee(
  points: readonly TracePoint[],
  overdriven: readonly OverdrivenReading[],
  voltsOffsetDb: number | null,
): Knee | null {
  if (clippingStage(overdriven) === 'earlier') return null;
  const direct = kneeFromOverdrive(overdriven);
  const seen = kneeFromTrace(points);
  const found = direct ?? seen;
  if (found === null) return null;
  const crossCheckDb = direct !== null && seen !== null ? seen.levelDbfs - direct.levelDbfs : null;
  const disputed = direct !== null && seen !== null && !kneesAgree(direct, seen);
  return {
    volts: voltsOffsetDb === null ? null : 10 ** ((found.levelDbfs + voltsOffsetDb) / 20),
    levelDbfs: found.levelDbfs,
    uncertaintyDb: disputed
      ? Math.max(found.uncertaintyDb, Math.abs(crossCheckDb ?? 0))
      : found.uncertaintyDb,
    from: direct !== null ? 'overdrive' : 'trace',
    crossCheckDb,
    disputed,
  };
}
