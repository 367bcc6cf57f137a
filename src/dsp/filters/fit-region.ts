/** The stretch of a magnitude response that can be trusted to show filters. */
import type { LevelPoints } from '../response/level-points.ts';

/** Below this a mean of decibels is no longer free of bias. */
const LEAST_SNR_DB = 12;
/** Further down, what leaks, hums and distorts shapes the curve more than the filter does. */
const DEEPEST_DB = 60;

/** From the highest level outward as long as each point stands clear of the noise: first point, and one past the last. */
export function fitRegion(points: LevelPoints): { from: number; to: number } {
  const { levelsDb, snrDb } = points;
  let top = -1;
  for (let i = 0; i < levelsDb.length; i += 1) {
    if (snrDb[i]! >= LEAST_SNR_DB && (top === -1 || levelsDb[i]! > levelsDb[top]!)) top = i;
  }
  if (top === -1) return { from: 0, to: 0 };
  const clear = (i: number) => snrDb[i]! >= LEAST_SNR_DB && levelsDb[i]! > levelsDb[top]! - DEEPEST_DB;
  let from = top;
  while (from > 0 && clear(from - 1)) from -= 1;
  let to = top + 1;
  while (to < levelsDb.length && clear(to)) to += 1;
  return { from, to };
}
