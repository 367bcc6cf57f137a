import { readNumber } from '../format/read-number.ts';
import { DraftField } from './DraftField.tsx';
import { useDraft } from './use-draft.ts';

interface Limits {
  /** Smallest allowed value; `above` excludes it. */
  least?: number;
  above?: number;
  most?: number;
  whole?: boolean;
  /** Whatever else may be wrong with a number: one sentence, or `null`. */
  refuse?: (value: number) => string | null;
}

/** What is wrong with the words typed, or `null`. */
export function numberFault(text: string, limits: Limits): string | null {
  const value = readNumber(text);
  if (value === null) return 'A number is needed here.';
  if (limits.whole && !Number.isInteger(value)) return 'A whole number is needed here.';
  if (limits.above !== undefined && !(value > limits.above)) return `It must be above ${limits.above}.`;
  if (limits.least !== undefined && value < limits.least) return `It must be ${limits.least} or more.`;
  if (limits.most !== undefined && value > limits.most) return `It must be ${limits.most} or less.`;
  return limits.refuse?.(value) ?? null;
}

export function NumberField({
  label,
  value,
  onChange,
  ...limits
}: Limits & { label: string; value: number; onChange: (value: number) => void }) {
  const draft = useDraft({
    shown: String(value),
    fault: (text) => numberFault(text, limits),
    normal: (text) => String(readNumber(text)),
    commit: (text) => onChange(readNumber(text) ?? value),
  });
  return <DraftField label={label} inputMode={limits.whole ? 'numeric' : 'text'} draft={draft} />;
}

/** As `NumberField`, but may be left empty. */
export function MaybeNumberField({
  label,
  value,
  onChange,
  ...limits
}: Limits & { label: string; value: number | null; onChange: (value: number | null) => void }) {
  const draft = useDraft({
    shown: value === null ? '' : String(value),
    fault: (text) => (text.trim() === '' ? null : numberFault(text, limits)),
    normal: (text) => (text.trim() === '' ? '' : String(readNumber(text))),
    commit: (text) => onChange(readNumber(text)),
  });
  return <DraftField label={label} inputMode={limits.whole ? 'numeric' : 'text'} draft={draft} />;
}
