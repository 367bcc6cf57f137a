/**
 * Digital level and volts at the measured point.
 *
 * `voltsPerFs`: a full-scale sine (0 dBFS, AES17) is that many volts RMS at
 * the measured point, so levelVolts = voltsPerFs * 10^(levelDbfs / 20).
 * Digital silence (-Infinity dBFS) is 0 V and back; NaN stays NaN.
 */

/** Inverse: {@link voltsToDbfs}. */
export function dbfsToVolts(levelDbfs: number, voltsPerFs: number): number {
  return voltsPerFs * 10 ** (levelDbfs / 20);
}

/** Inverse: {@link dbfsToVolts}. */
export function voltsToDbfs(volts: number, voltsPerFs: number): number {
  return 20 * Math.log10(volts / voltsPerFs);
}
