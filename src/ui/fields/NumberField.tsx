import { useId, useState } from 'react';
import { readNumber } from '../format/read-number.ts';

interface Limits {
  /** Smallest allowed value; `above` excludes it. */
  least?: number;
  above?: number;
  most?: number;
  whole?: boolean;
}

/** What is wrong with the words typed, or `null`. */
export function numberFault(text: string, limits: Limits): string | null {
  const value = readNumber(text);
  if (value === null) return 'A number is needed here.';
  if (limits.whole && !Number.isInteger(value)) return 'A whole number is needed here.';
  if (limits.above !== undefined && !(value > limits.above)) return `It must be above ${limits.above}.`;
  if (limits.least !== undefined && value < limits.least) return `It must be ${limits.least} or more.`;
  if (limits.most !== undefined && value > limits.most) return `It must be ${limits.most} or less.`;
  return null;
}

/** Keeps the words as typed; hands the number on as soon as it makes sense. */
function useDraft(shown: string, fault: (text: string) => string | null, commit: (text: string) => void) {
  const [draft, setDraft] = useState<string | null>(null);
  const text = draft ?? shown;
  const wrong = draft === null ? null : fault(draft);
  return {
    text,
    wrong,
    onChange(next: string) {
      setDraft(next);
      if (fault(next) === null) commit(next);
    },
    onBlur() {
      if (wrong === null) setDraft(null);
    },
  };
}

function Field({
  label,
  whole,
  draft,
}: {
  label: string;
  whole: boolean;
  draft: ReturnType<typeof useDraft>;
}) {
  const fault = useId();
  return (
    <label className="field">
      {label}
      <input
        inputMode={whole ? 'numeric' : 'text'}
        autoComplete="off"
        value={draft.text}
        aria-invalid={draft.wrong !== null}
        aria-describedby={fault}
        onChange={(event) => draft.onChange(event.target.value)}
        onBlur={draft.onBlur}
      />
      <span id={fault} className={draft.wrong === null ? undefined : 'wrong'}>
        {draft.wrong}
      </span>
    </label>
  );
}

export function NumberField({
  label,
  value,
  onChange,
  ...limits
}: Limits & { label: string; value: number; onChange: (value: number) => void }) {
  const draft = useDraft(
    String(value),
    (text) => numberFault(text, limits),
    (text) => onChange(readNumber(text) ?? value),
  );
  return <Field label={label} whole={limits.whole === true} draft={draft} />;
}

/** As `NumberField`, but may be left empty. */
export function MaybeNumberField({
  label,
  value,
  onChange,
  ...limits
}: Limits & { label: string; value: number | null; onChange: (value: number | null) => void }) {
  const draft = useDraft(
    value === null ? '' : String(value),
    (text) => (text.trim() === '' ? null : numberFault(text, limits)),
    (text) => onChange(readNumber(text)),
  );
  return <Field label={label} whole={limits.whole === true} draft={draft} />;
}
