/**
 * Standard uncertainties after the GUM (JCGM 100:2008): a limit known only as
 * "within plus or minus a" is a rectangular distribution with u = a / sqrt 3
 * (4.3.7), and independent inputs combine as the root of the sum of squares,
 * each times its sensitivity (5.1.2).
 */

/** Standard uncertainty (k = 1) of limits +-`halfWidth`, in the same unit. NaN stays NaN. */
export function rectangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

/** Combined standard uncertainty of independent contributions, each already times its sensitivity. */
export function combined(contributions: number[]): number {
  return Math.hypot(...contributions);
}
