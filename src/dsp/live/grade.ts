/** From doubts to a grade: the worst of them decides. */
import type { Doubt, Grade } from '../reading.ts';

/**
 * `invalid`: the figure is, or may be, plainly wrong. `suspect`: it stands, with
 * less certainty than usual, and may be recorded with its reason.
 */
const GRADE_OF: Record<Doubt, 'suspect' | 'invalid'> = {
  'warming-up': 'invalid',
  gap: 'invalid',
  'phase-break': 'invalid',
  'digital-silence': 'invalid',
  'not-a-number': 'invalid',
  'input-overload': 'invalid',
  'level-unsteady': 'suspect',
  'rates-differ': 'suspect',
  'rate-unknown': 'suspect',
  // Automatic gain alone was seen to move a level by 5 to 10 dB with THD untouched.
  'processing-on': 'invalid',
  'processing-unknown': 'suspect',
  // A telephone channel: neither level nor distortion of it says anything.
  'narrow-band': 'invalid',
  'page-hidden': 'invalid',
  'source-changed': 'invalid',
  paused: 'invalid',
};

/** All there are, in the order they are told where they weigh alike. */
export const DOUBTS = Object.keys(GRADE_OF) as Doubt[];

/** @returns `valid` for an empty list. */
export function gradeOf(doubts: readonly Doubt[]): Grade {
  if (doubts.some((doubt) => GRADE_OF[doubt] === 'invalid')) return 'invalid';
  return doubts.length > 0 ? 'suspect' : 'valid';
}

/** Doubts in the order they should be told: what spoils a reading first. */
export function byWeight(doubts: Iterable<Doubt>): Doubt[] {
  return [...new Set(doubts)].sort((a, b) => weight(a) - weight(b) || DOUBTS.indexOf(a) - DOUBTS.indexOf(b));
}

function weight(doubt: Doubt): number {
  return GRADE_OF[doubt] === 'invalid' ? 0 : 1;
}
