/** Which one thing the station offers to do now. */
import { isBursting } from '../../../procedure/gain/burst/burst-plan.ts';
import { awaitsBursts } from '../../../procedure/gain/burst/burst-words.ts';
import type { GainState } from '../../../procedure/gain/gain.ts';
import { isClippedAsFound } from '../../../procedure/gain/instruction.ts';

export type Work = 'bursts' | 'stage' | 'unnamed-clipping' | 'confirm' | 'accept';

/** Whether the control may be turned now: not while bursts run, nor while a finding waits to be read. */
export function isForHands(state: GainState): boolean {
  const work = workOf(state);
  return work !== 'bursts' && !(work === 'stage' && state.stageCheck?.phase === 'named');
}

export function workOf(state: GainState | null): Work {
  if (state === null) return 'accept';
  if (isBursting(state)) return 'bursts';
  if (state.stageCheck !== null) return 'stage';
  const isUpstream = state.aim.zone === 'past-knee' && state.clippingStage === 'earlier';
  if (isUpstream || isClippedAsFound(state)) return 'unnamed-clipping';
  return awaitsBursts(state) && state.aim.zone === 'inside' ? 'confirm' : 'accept';
}
