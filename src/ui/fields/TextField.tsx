import { DraftField } from './DraftField.tsx';
import { useDraft } from './use-draft.ts';

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
  const draft = useDraft({
    shown: value,
    fault: (text) => (!mayBeEmpty && text.trim() === '' ? 'A name is needed here.' : null),
    normal: (text) => text,
    commit: onChange,
  });
  return <DraftField label={label} draft={draft} />;
}
