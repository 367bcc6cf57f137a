import { useState } from 'react';

/** Words that may not be empty unless `mayBeEmpty`. */
export function TextField({
  label,
  value,
  mayBeEmpty = false,
  onChange,
}: {
  label: string;
  value: string;
  mayBeEmpty?: boolean;
  onChange: (value: string) => void;
}) {
  const [draft, setDraft] = useState<string | null>(null);
  const text = draft ?? value;
  const wrong = !mayBeEmpty && text.trim() === '';
  return (
    <label className="field">
      {label}
      <input
        value={text}
        autoComplete="off"
        aria-invalid={wrong}
        onChange={(event) => {
          setDraft(event.target.value);
          if (mayBeEmpty || event.target.value.trim() !== '') onChange(event.target.value);
        }}
        onBlur={() => setDraft(null)}
      />
    </label>
  );
}
