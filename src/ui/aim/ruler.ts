/**
 * Where a distance in decibels stands on the aim's ruler. The scale is wide
 * around the target, where hands turn slowly, and narrows outwards, so that a
 * reading 20 dB away still moves when the control is turned: an inverse
 * hyperbolic sine, labelled at every tick.
 */

const KNEE_OF_SCALE_DB = 1.5;
export const RULER_LOW_DB = -30;
export const RULER_HIGH_DB = 6;

/** Ticks and whether each carries a label on a narrow screen. */
export const RULER_TICKS_DB: readonly number[] = [-30, -20, -10, -5, -3, -2, -1, 0, 1, 2, 3, 6];

function stretched(db: number): number {
  return Math.asinh(db / KNEE_OF_SCALE_DB);
}

/** 0 (left end) to 100 (right end); beyond the ends it stays at the end. */
export function rulerPercent(db: number): number {
  const low = stretched(RULER_LOW_DB);
  const high = stretched(RULER_HIGH_DB);
  const clamped = Math.min(RULER_HIGH_DB, Math.max(RULER_LOW_DB, db));
  return (100 * (stretched(clamped) - low)) / (high - low);
}
