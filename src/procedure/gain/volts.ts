import { median } from '../../dsp/statistics/median.ts';
import type { GainState } from './gain.ts';
import { isSound } from './usable.ts';

/** Level may wander this much before a typed voltage is taken to have been read at another setting. */
export const TYPED_STILL_DB = 0.2;

type Facts = Pick<GainState, 'task' | 'turn' | 'latest' | 'meterVolts' | 'meterLevelDbfs' | 'trace'>;

/** The voltage that the aim stands on. */
export interface UsedVolts {
  volts: number;
  /** Standard uncertainty; `null` for a typed value, whose meter we do not know. */
  uncertainty: number | null;
  /** `followed`: typed once, and carried on by how far the level at the input has moved since. */
  basis: 'input' | 'typed' | 'followed';
}

/** How far the level has moved since the voltage was typed, dB; `null` where either was not heard. */
export function movedSinceTypedDb(state: Facts): number | null {
  const level = state.latest?.levelDbfs ?? null;
  return level === null || state.meterLevelDbfs === null ? null : level - state.meterLevelDbfs;
}

/**
 * In the `wire` way the input's own volts. In the `meter` way the typed volts, followed by the level at the
 * input between two typings if the reading is plainly valid, so that the pointer moves with the hand.
 */
export function usedVolts(state: Facts): UsedVolts | null {
  const { latest } = state;
  if (state.task.way === 'wire') {
    return latest === null || latest.volts === null
      ? null
      : { volts: latest.volts, uncertainty: latest.voltsUncertainty, basis: 'input' };
  }
  if (state.meterVolts === null) return null;
  const movedDb = movedSinceTypedDb(state);
  const isStill = movedDb === null || Math.abs(movedDb) <= TYPED_STILL_DB;
  if (isStill || latest === null || !isSound(latest)) {
    return { volts: state.meterVolts, uncertainty: null, basis: 'typed' };
  }
  return { volts: state.meterVolts * 10 ** (movedDb / 20), uncertainty: null, basis: 'followed' };
}

/**
 * dB by which `20 lg volts` stands above the input's `levelDbfs`, for putting volts to a level; `null` while
 * the two have not been seen together.
 */
export function voltsOffsetDb(state: Facts): number | null {
  if (state.task.way === 'meter') {
    return state.meterVolts === null || state.meterLevelDbfs === null
      ? null
      : 20 * Math.log10(state.meterVolts) - state.meterLevelDbfs;
  }
  const offsets = state.trace.flatMap((p) =>
    p.turn === state.turn && p.volts !== null && p.volts > 0 ? [20 * Math.log10(p.volts) - p.levelDbfs] : [],
  );
  return offsets.length === 0 ? null : median(offsets);
}
