import { decimalsFor, fixed, NOTHING, signed, significant } from '../../../job/format/number.ts';
import { COVERAGE } from '../../../job/format/quantity.ts';
import type { ComparedFigure, ComparedVerdict } from '../../../job/verify/compare.ts';
import type { RecordedFigure } from '../../../job/verify/recorded-figure.ts';
import type { Mark } from '../../marks/mark.ts';

export const VERDICT_WORDS: Record<ComparedVerdict, string> = {
  changed: 'changed',
  'not-changed': 'not changed',
  'cannot-tell': 'cannot tell',
};

/** A change is no fault in itself, so it has not the sign of one. */
export const VERDICT_MARKS: Record<ComparedVerdict, Mark> = {
  changed: 'stale',
  'not-changed': 'done',
  'cannot-tell': 'not-done',
};

/** "17.30 V ±0.20 V", "step 30"; a dash where it could not be told. */
export function figureWords(figure: RecordedFigure | null): string {
  if (figure === null || figure.value === null) return NOTHING;
  const { value, unit, uncertainty } = figure;
  if (typeof value === 'string') return value;
  if (uncertainty === null) return `${significant(value, 4)} ${unit}`;
  const expanded = COVERAGE * uncertainty;
  const decimals = decimalsFor(expanded);
  return `${fixed(value, decimals)} ${unit} ±${fixed(expanded, decimals)} ${unit}`;
}

/** "+0.12 V ±0.28 V"; empty where there is no difference to speak of. */
export function differenceWords({ difference, uncertainty, unit }: ComparedFigure): string {
  if (difference === null) return '';
  if (uncertainty === null) return `${signed(difference, 2)} ${unit}`;
  const decimals = decimalsFor(uncertainty);
  return `${signed(difference, decimals)} ${unit} ±${fixed(uncertainty, decimals)} ${unit}`;
}
