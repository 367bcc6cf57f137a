/** Peak and RMS volts of a sine: a factor of sqrt 2. Other waves have other crest factors. */

/** Inverse: {@link sinePeakToRms}. */
export function sineRmsToPeak(rmsVolts: number): number {
  return rmsVolts * Math.SQRT2;
}

/** Inverse: {@link sineRmsToPeak}. */
export function sinePeakToRms(peakVolts: number): number {
  return peakVolts / Math.SQRT2;
}
