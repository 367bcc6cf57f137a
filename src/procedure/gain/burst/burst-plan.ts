import type { GainState, GainTask } from '../gain.ts';
import { fullDbfs } from '../tone-level.ts';
import { usedVolts } from '../volts.ts';

/** Under the target first: an amplifier that clips far too early is found out at a quarter of the power. */
const APPROACH_DB = -6;
/** And a little above it: shows how much room is left, at 1.26 times the power for a second. */
const BEYOND_DB = 1;

/** Levels of a run of bursts, dBFS: under the level that reaches the target, at it, and above where there is room. */
export function burstTonesDbfs(task: GainTask): number[] {
  return burstTonesAt(fullDbfs(task));
}

/** As `burstTonesDbfs`, from the level that reaches the target. */
export function burstTonesAt(full: number): number[] {
  return [full + APPROACH_DB, full, full + BEYOND_DB].filter((level) => level <= 0);
}

type Used = 'task' | 'turn' | 'latest' | 'meterVolts' | 'meterLevelDbfs' | 'trace' | 'aim' | 'bursts';

/** True from the first burst to the last. */
export function isBursting({ bursts }: Pick<GainState, 'bursts'>): boolean {
  return bursts !== null && bursts.phase !== 'done';
}

/** Why no bursts may begin now, one sentence; `null` where they may. */
export function burstRefusal(state: Pick<GainState, Used>): string | null {
  if (isBursting(state)) return 'The bursts are still running.';
  if (state.task.level !== 'reduced') return 'Bursts confirm a gain that was set at the reduced level.';
  if (state.aim.zone !== 'inside') return 'Set the gain at the reduced level first: inside the brackets.';
  if (state.latest?.levelDbfs == null || usedVolts(state) === null) {
    return 'The reduced tone must be heard first, so that the bursts have something to stand on.';
  }
  if (state.latest.motion !== 'steady') return 'Let the control rest for a second first.';
  return null;
}
