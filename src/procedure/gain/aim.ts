import type { Aim, AimZone, ClippingStage, GainReading, GainState, GainTask, Knee } from './gain.ts';
import { isUnseenClean } from './unseen-clean.ts';
import { obstacle } from './usable.ts';
import { type UsedVolts, usedVolts } from './volts.ts';

/** Room left under a knee, dB: half the usual bracket, more than its uncertainty, 11 % in power. */
export const KNEE_MARGIN_DB = 0.5;
/** Once the aim stands under the knee it stays there until the knee clears the target by this much: no flicker. */
const CLEARS_TARGET_DB = 0.3;
const DB_PER_RELATIVE = 20 / Math.LN10;

type Facts = Pick<
  GainState,
  | 'task'
  | 'turn'
  | 'latest'
  | 'meterVolts'
  | 'meterLevelDbfs'
  | 'trace'
  | 'knee'
  | 'earlierKnee'
  | 'clippingStage'
>;

function ratioDb(volts: number, against: number): number {
  return 20 * Math.log10(volts / against);
}

/**
 * Where the reading stands against what is wanted.
 *
 * Where the knee lies below the channel's full target, the amplifier cannot reach that target clean; the aim
 * then moves to `KNEE_MARGIN_DB` under the knee, scaled to the level of the setting tone. A ceiling under which
 * nothing clean was read yet may be an earlier stage's, and moves nothing.
 *
 * @param wasLimited whether the aim before this one stood under the knee.
 */
export function aimAt(state: Facts, wasLimited: boolean): Aim {
  const { task, latest, knee } = state;
  const kneeVolts = knee?.volts ?? null;
  const limitedByKnee = !isUnseenClean(state) && isLimited(task, knee, wasLimited);
  const aimVolts =
    limitedByKnee && kneeVolts !== null
      ? task.aimVolts * ((kneeVolts * 10 ** (-KNEE_MARGIN_DB / 20)) / task.targetVolts)
      : task.aimVolts;
  const used = usedVolts(state);
  const kneeDb = kneeVolts === null ? null : ratioDb(kneeVolts * reach(task), aimVolts);
  const errorDb = used === null || blocksVolts(state) ? null : ratioDb(used.volts, aimVolts);
  const pastKneeDb = howFarPastKneeDb(latest, knee, task);
  return {
    zone: zoneOf(state, errorDb, pastKneeDb !== null),
    errorDb,
    uncertaintyDb: errorDb === null ? null : relativeDb(used),
    toleranceDb: task.toleranceDb,
    aimVolts,
    limitedByKnee,
    kneeDb,
    turnBackDb: turnBackDb(pastKneeDb, kneeDb, state.clippingStage),
  };
}

/** At the reduced level the knee is put where this setting would meet it at full level, so that it stays on the ruler. */
function reach(task: GainTask): number {
  return task.level === 'reduced' ? task.aimVolts / task.targetVolts : 1;
}

function isLimited(task: GainTask, knee: Knee | null, wasLimited: boolean): boolean {
  if (knee === null || knee.volts === null) return false;
  const roomDb = ratioDb(knee.volts, task.targetVolts);
  return roomDb < 0 || (wasLimited && roomDb < CLEARS_TARGET_DB);
}

/** A wrong tone's volts, or a torn block's, are not the channel's. A typed voltage stands by itself. */
function blocksVolts(state: Facts): boolean {
  return state.task.way === 'wire' && obstacle(state.latest, state.task) !== null;
}

function relativeDb(used: UsedVolts | null): number | null {
  return used === null || used.uncertainty === null
    ? null
    : (used.uncertainty / used.volts) * DB_PER_RELATIVE;
}

/**
 * dB of drive past the knee; 0 where the wave is clipped by an unknown amount; `null` where the reading is
 * not past it. An undecided wave counts as past where it stands above a known knee by more than its doubt.
 */
function howFarPastKneeDb(latest: GainReading | null, knee: Knee | null, task: GainTask): number | null {
  if (latest === null || obstacle(latest, task) !== null) return null;
  const { verdict, overdriveDb } = latest.clipping;
  if (verdict === 'clipped') return overdriveDb ?? 0;
  if (verdict !== 'undecided' || knee === null || latest.levelDbfs === null) return null;
  const overDb = latest.levelDbfs - knee.levelDbfs;
  return overDb > Math.max(0.1, 2 * knee.uncertaintyDb) ? overDb : null;
}

/** Back to the knee, and on to the aim below it, at least by the margin. No use where an earlier stage clips. */
function turnBackDb(
  pastKneeDb: number | null,
  kneeDb: number | null,
  stage: ClippingStage | null,
): number | null {
  if (pastKneeDb === null || stage === 'earlier') return null;
  return pastKneeDb + Math.max(KNEE_MARGIN_DB, kneeDb ?? 0);
}

function zoneOf(state: Facts, errorDb: number | null, isPastKnee: boolean): AimZone {
  if (obstacle(state.latest, state.task)?.kind === 'input-overload') return 'input-overload';
  if (isPastKnee) return 'past-knee';
  if (errorDb === null) return 'no-reading';
  if (Math.abs(errorDb) <= state.task.toleranceDb) return 'inside';
  return errorDb < 0 ? 'under' : 'over';
}
