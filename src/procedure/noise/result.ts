import { levelScatterDb } from '../../dsp/noise/level-scatter.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';
import { dbvOf } from './levels.ts';
import {
  ENGINE_STATES,
  type EngineState,
  type NoiseResult,
  type NoiseRippleResult,
  type NoiseState,
  type NoiseStateResult,
  type Ripple,
} from './noise.ts';

/**
 * What accepting freezes.
 *
 * @throws Error with the reason where nothing was recorded yet
 */
export function noiseResult(state: NoiseState): NoiseResult {
  const { task, worst, ripple, hum, steadyTones, findings, acceptance } = state;
  if (worst === null) throw new Error(acceptance.why ?? 'Nothing was recorded yet.');
  const { belowTargetDb } = worst;
  return {
    channelId: task.channelId,
    place: task.place,
    targetVolts: task.targetVolts,
    states: ENGINE_STATES.flatMap((engine) => {
      const reading = state.takes[engine];
      return reading === null ? [] : [stateResult(engine, reading, state)];
    }),
    rises: risesOf(state),
    worstEngine: worst.engine,
    belowTargetDb,
    belowTargetUncertaintyDb: belowTargetDb === null ? null : uncertaintyDb(state, worst.engine),
    toleranceDb: task.noiseDb,
    inside: belowTargetDb === null ? null : belowTargetDb >= task.noiseDb,
    ripple: ripple === null ? null : rippleResult(ripple),
    hum,
    steadyTones: steadyTones.map(({ comb, heard }) => ({
      fundamentalHz: comb.fundamentalHz,
      levelDbfs: comb.levelDbfs,
      overFloorDb: comb.overFloorDb,
      heard,
    })),
    findings,
  };
}

function stateResult(
  engine: EngineState,
  reading: NoiseTakeReading,
  { task, rpm }: NoiseState,
): NoiseStateResult {
  const { floor, interruptions } = reading;
  return {
    engine,
    rpm: rpm[engine],
    seconds: reading.seconds,
    levelDbfs: floor.levelDbfs,
    levelDbv: dbvOf(floor.levelDbfs, task),
    floorDbfs: floor.floorDbfs,
    aWeightedDbfs: floor.aWeightedDbfs,
    aWeightedDbv: dbvOf(floor.aWeightedDbfs, task),
    octaves: floor.octaves,
    clicks: interruptions.clicks.length,
    dropouts: interruptions.dropouts.length,
    grade: reading.grade,
    doubts: reading.doubts,
  };
}

/** What the running engine adds, octave by octave, against the engine off. */
export function risesOf({ takes }: Pick<NoiseState, 'takes'>): NoiseResult['rises'] {
  const { off } = takes;
  if (off === null) return [];
  return (['idle', 'revved'] as const).flatMap((engine) => {
    const running = takes[engine];
    if (running === null) return [];
    const octaves = running.floor.octaves.flatMap((octave) => {
      const before = off.floor.octaves.find((one) => one.nominalHz === octave.nominalHz);
      if (before === undefined || before.levelDbfs === null || octave.levelDbfs === null) return [];
      return [
        {
          nominalHz: octave.nominalHz,
          riseDb: octave.levelDbfs - before.levelDbfs,
          uncertaintyDb: Math.hypot(octave.uncertaintyDb, before.uncertaintyDb),
        },
      ];
    });
    return [{ engine, octaves }];
  });
}

/** Calibration, and the scatter by the record's length. */
function uncertaintyDb({ task, takes }: NoiseState, engine: EngineState): number {
  return Math.hypot(task.voltsUncertaintyDb ?? 0, levelScatterDb(takes[engine]?.floor.octaves ?? []));
}

function rippleResult(ripple: Ripple): NoiseRippleResult {
  const { idle, revved, pitchRatio, rpmRatio, course, wayIn, lossUnpluggedDb } = ripple;
  const levels = [idle, revved].flatMap((comb) => (comb === null ? [] : [comb]));
  return {
    idleHz: idle?.fundamentalHz ?? null,
    revvedHz: revved?.fundamentalHz ?? null,
    levelDbfs: Math.max(...levels.map((comb) => comb.levelDbfs)),
    overFloorDb: Math.max(...levels.map((comb) => comb.overFloorDb)),
    pitchRatio,
    rpmRatio,
    course,
    wayIn,
    // A sound that is gone into digital silence lost no number of decibels.
    lossUnpluggedDb: lossUnpluggedDb !== null && Number.isFinite(lossUnpluggedDb) ? lossUnpluggedDb : null,
  };
}
