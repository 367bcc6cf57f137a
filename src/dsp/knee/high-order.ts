/** A driver's own distortion is mostly 2nd and 3rd; from here up what grows is a limit's. */
export const FIRST_HIGH_ORDER = 4;

/** Highest order that a reading lists (`ToneReading.harmonicsDbc`). */
export const LAST_LISTED_ORDER = 11;

/**
 * Root-sum-square of the harmonics of order 4 and up against the fundamental, per cent. No phase enters: a room
 * turns each harmonic as it likes.
 *
 * @param harmonicsDbc the 2nd first, as far as the band holds them
 * @returns `null` where the band ends below the 5th, the first that a symmetric limit makes there
 */
export function highOrderPercent(harmonicsDbc: readonly number[]): number | null {
  const high = harmonicsDbc.slice(FIRST_HIGH_ORDER - 2);
  if (high.length < 2) return null;
  return 100 * Math.sqrt(high.reduce((sum, dbc) => sum + 10 ** (dbc / 10), 0));
}
