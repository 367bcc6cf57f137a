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

/** What to do with a comparison; what was measured again and cannot be told is never passed over in silence. */
export function comparedInstruction(
  compared: readonly Pick<ComparedFigure, 'verdict' | 'before' | 'after'>[],
): string {
  if (compared.some(({ verdict }) => verdict === 'changed'))
    return 'Look at what has changed, and find out why.';
  const isOpen = compared.some(
    ({ verdict, before, after }) =>
      verdict === 'cannot-tell' && before !== null && after !== null && before.at !== after.at,
  );
  if (isOpen) return 'Look at what cannot be told, and why: it may have changed.';
  if (compared.some(({ verdict }) => verdict === 'not-changed'))
    return 'Nothing that was measured again has changed.';
  return 'Measure again at any station, or check by one track, then come back here.';
}
