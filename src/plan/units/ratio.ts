/** Voltage ratios and relative changes in decibels. */

/** Decibels of a relative change of 1 (100 %), to first order: 20 / ln 10. */
const DB_PER_NEPER = 20 / Math.LN10;

/** Inverse: {@link dbToRatio}. 0 is -Infinity, negative is NaN. */
export function ratioToDb(ratio: number): number {
  return 20 * Math.log10(ratio);
}

/** Inverse: {@link ratioToDb}. */
export function dbToRatio(db: number): number {
  return 10 ** (db / 20);
}

/** A small relative uncertainty (0.01 for 1 %) as decibels, first order as in the GUM. Inverse: {@link dbToRelative}. */
export function relativeToDb(relative: number): number {
  return relative * DB_PER_NEPER;
}

/** Inverse: {@link relativeToDb}. */
export function dbToRelative(db: number): number {
  return db / DB_PER_NEPER;
}
