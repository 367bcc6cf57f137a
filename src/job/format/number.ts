/** Numbers as people read them: a real minus sign, as many digits as the uncertainty deserves. */

export const NOTHING = '—';

/** Fixed decimals, with a typographic minus and no "−0". */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** Fixed decimals with the sign always shown. */
export function signed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** About `digits` significant digits, never in powers of ten. */
export function significant(value: number, digits: number): string {
  if (value === 0) return '0';
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return fixed(value, Math.min(decimals, 6));
}

/**
 * Decimals that a value with this uncertainty deserves: two digits of the
 * uncertainty where its first is 1 or 2, one otherwise (JCGM 100 7.2.6).
 */
export function decimalsFor(uncertainty: number): number {
  if (!(uncertainty > 0)) return 2;
  const place = Math.floor(Math.log10(uncertainty));
  const first = uncertainty / 10 ** place;
  return Math.min(6, Math.max(0, -place + (first < 2.95 ? 1 : 0)));
}
