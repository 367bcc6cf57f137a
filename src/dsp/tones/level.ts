/**
 * Highest peak of any tone: full scale less two steps at 16 bits, which the
 * writer's dither and rounding need. A sine at 0 dBFS is thereby 0.0005 dB low,
 * inside the 0.001 dB promised, and nothing is ever clipped.
 */
export const HIGHEST_PEAK = 32_766 / 32_768;

/** Peak of a sine at this level (AES17 3.12.1: a full-scale sine is 0 dBFS). */
export function sinePeak(levelDbfs: number): number {
  return Math.min(10 ** (levelDbfs / 20), HIGHEST_PEAK);
}

/** RMS, against full scale 1.0, of any signal at this level. */
export function rmsOfLevel(levelDbfs: number): number {
  return 10 ** (levelDbfs / 20) * Math.SQRT1_2;
}
