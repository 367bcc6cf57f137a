import type { GainState } from './gain.ts';

/**
 * No clean reading in this turn, and no knee from one before: whatever clips, nobody has seen yet that it stops
 * when this gain comes down. Until then a ceiling is somebody's, not this amplifier's.
 */
export function isUnseenClean(
  state: Pick<GainState, 'trace' | 'turn' | 'earlierKnee' | 'clippingStage'>,
): boolean {
  const { trace, turn, earlierKnee, clippingStage } = state;
  if (earlierKnee !== null || clippingStage !== null) return false;
  return !trace.some((point) => point.turn === turn && point.verdict === 'clean');
}
