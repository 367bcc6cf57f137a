import { useId } from 'react';
import type { useDraft } from './use-draft.ts';

/** A line to type in, with what is wrong with it beneath. */
export function DraftField({
  label,
  inputMode = 'text',
  draft,
}: {
  label: string;
  inputMode?: 'text' | 'numeric';
  draft: ReturnType<typeof useDraft>;
}) {
  const id = useId();
  const fault = `${id}-fault`;
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        inputMode={inputMode}
        autoComplete="off"
        value={draft.text}
        aria-invalid={draft.wrong !== null}
        aria-describedby={fault}
        onChange={(event) => draft.onChange(event.target.value)}
        onBlur={draft.onBlur}
        onKeyDown={draft.onKeyDown}
      />
      <span id={fault} aria-live="polite" className={draft.wrong === null ? undefined : 'wrong'}>
        {draft.wrong}
      </span>
    </div>
  );
}
