/** Peak of a sine at this level (AES17 3.12.1: a full-scale sine is 0 dBFS). */
export function sinePeak(levelDbfs: number): number {
  return 10 ** (levelDbfs / 20);
}

/** RMS, against full scale 1.0, of any signal at this level. */
export function rmsOfLevel(levelDbfs: number): number {
  return sinePeak(levelDbfs) * Math.SQRT1_2;
}
