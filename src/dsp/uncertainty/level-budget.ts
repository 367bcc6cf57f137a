/**
 * From a reading's own uncertainty to that of volts, after the GUM (JCGM 100:2008): what is known as
 * "within plus or minus a" is a rectangular distribution (4.3.7), independent contributions add as squares
 * (5.1.2). All in decibels, which small relative changes of amplitude are in proportion to.
 */
export interface LevelContributions {
  /** Standard uncertainty (k = 1) of the reading by noise and fit, dB. */
  readingDb: number;
  /** Standard uncertainty (k = 1) of what a full-scale sine is in volts, dB. */
  calibrationDb?: number;
  /** A divider that was not inside the calibration. */
  divider?: DividerTolerance;
}

interface DividerTolerance {
  /** Output over input, 0 to 1. */
  ratio: number;
  /** Limits of each resistor's value, 0.01 for 1 %. */
  resistors: number;
}

/** Combined standard uncertainty (k = 1) of a level in volts, dB. NaN stays NaN. */
export function combinedLevelDb(contributions: LevelContributions): number {
  const { readingDb, calibrationDb = 0, divider } = contributions;
  return Math.hypot(readingDb, calibrationDb, divider === undefined ? 0 : dividerDb(divider));
}

/**
 * Standard uncertainty (k = 1) of a divider's ratio, dB: with `ratio = R2 / (R1 + R2)` a relative change of
 * either resistor moves it by `1 - ratio` of that change, the two independently.
 */
function dividerDb({ ratio, resistors }: DividerTolerance): number {
  const each = (resistors / Math.sqrt(3)) * (1 - ratio);
  return (20 / Math.LN10) * Math.hypot(each, each);
}
