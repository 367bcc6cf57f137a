/** One line of a microphone's calibration file, taken apart; what its commas mean is settled for the whole file. */

/** A comma divides columns or decimals, never both in one file: `20,5 0,3` and `20,5` cannot stand side by side. */
export type CommaRole = 'divides-columns' | 'divides-decimals';

export interface SplitLine {
  columns: string[];
  /** `null` where the line has no comma. */
  comma: CommaRole | null;
}

/**
 * Splits at semicolons, tabs and spaces; at commas where nothing else divides.
 *
 * @returns `null` where commas could be read in more than one way
 */
export function splitLine(line: string): SplitLine | null {
  const whole = line.replace(/[\s;,]+$/, '');
  const commaBesideSpace = /,\s|\s,/.test(whole);
  const columns = whole
    .replace(/\s*,\s+|\s+,/g, ';')
    .split(/\s*;\s*|\s+/)
    .map((column) => column.trim());
  const commaInside = columns.some((column) => column.includes(','));
  if (commaBesideSpace) return commaInside ? null : { columns, comma: 'divides-columns' };
  if (!commaInside) return { columns, comma: null };
  if (columns.length > 1) return { columns, comma: 'divides-decimals' };
  const parts = whole.split(',');
  // "20,5,0,3" is 20 Hz and 5 dB, or 20.5 Hz and 0.3 dB; a point in it says that the commas are no decimals.
  if (parts.length > 2 && !whole.includes('.')) return null;
  return { columns: parts, comma: 'divides-columns' };
}

/** A number as such files hold it: point or comma, a minus of either kind, an exponent. `null` for anything else. */
export function readFigure(text: string): number | null {
  const plain = text.replace(',', '.').replace('−', '-');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}
