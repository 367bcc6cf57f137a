const DB_PER_NEPER = 20 / Math.LN10;

/**
 * Cut angle of a sine driven `overdriveDb` (>= 0) past a ceiling: `acos(10^(-overdriveDb/20))`, by the
 * half angle so that it stays exact near 0. Inverse: `overdriveOfAngle`.
 */
export function angleOfOverdrive(overdriveDb: number): number {
  const shortfall = -Math.expm1(-overdriveDb / DB_PER_NEPER);
  return 2 * Math.asin(Math.sqrt(shortfall / 2));
}

/** Overdrive in dB of a cut `angle` (0 to pi/2): `-20*lg(cos(angle))`. Inverse: `angleOfOverdrive`. */
export function overdriveOfAngle(angle: number): number {
  const half = Math.sin(angle / 2);
  return -DB_PER_NEPER * Math.log1p(-2 * half * half);
}
