import type { GainReading, GainTask } from './gain.ts';
import { obstacle } from './usable.ts';

/** So many readings in a row, 50 ms apart, must agree before a short tone counts as read. */
export const SETTLED_READINGS = 4;

/**
 * Within this they agree, dB: a window that still holds part of a rise is off by more, and the noise of a
 * fit by a tenth of it.
 */
const AGREE_DB = 0.05;

/**
 * The newest readings of the asked tone, where they agree in level. The analyser calls a level steady only
 * after it has rested for longer than a burst lasts, so that is not asked here.
 *
 * @returns `SETTLED_READINGS` of them, or `null` where the level is not at rest yet.
 */
export function settled(readings: readonly GainReading[], task: GainTask): GainReading[] | null {
  const newest = readings.slice(-SETTLED_READINGS);
  if (newest.length < SETTLED_READINGS) return null;
  const levels: number[] = [];
  for (const reading of newest) {
    if (obstacle(reading, task) !== null || reading.levelDbfs === null) return null;
    levels.push(reading.levelDbfs);
  }
  return Math.max(...levels) - Math.min(...levels) <= AGREE_DB ? newest : null;
}
