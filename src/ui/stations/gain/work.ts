/** Which one thing the station offers to do now. */
import { isBursting } from '../../../procedure/gain/burst/burst-plan.ts';
import { awaitsBursts } from '../../../procedure/gain/burst/burst-words.ts';
import type { GainState } from '../../../procedure/gain/gain.ts';
import { isClippedAsFound } from '../../../procedure/gain/instruction.ts';

export type Work = 'bursts' | 'stage' | 'unnamed-clipping' | 'confirm' | 'accept';

export function workOf(state: GainState | null): Work {
  if (state === null) return 'accept';
  if (isBursting(state)) return 'bursts';
  if (state.stageCheck !== null) return 'stage';
  const isUpstream = state.aim.zone === 'past-knee' && state.clippingStage === 'earlier';
  if (isUpstream || isClippedAsFound(state)) return 'unnamed-clipping';
  return awaitsBursts(state) && state.aim.zone === 'inside' ? 'confirm' : 'accept';
}
