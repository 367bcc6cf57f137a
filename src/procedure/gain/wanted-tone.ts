import { isBursting } from './burst/burst-plan.ts';
import { soundingDbfs } from './burst/burst-steps.ts';
import type { GainState } from './gain.ts';

/** Level at which the setting tone should sound now, dBFS; `null` for silence, between two bursts. */
export function wantedDbfs(state: GainState): number | null {
  return state.bursts !== null && isBursting(state) ? soundingDbfs(state.bursts) : state.task.toneDbfs;
}
