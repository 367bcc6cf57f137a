import { type KeyboardEvent, useState } from 'react';

interface Draft {
  text: string;
  /** What the field would show without this draft; once that changes from elsewhere, the draft is over. */
  shown: string;
  /** What it showed before any of this was typed: the value that counts while the words make no sense. */
  before: string;
  wrong: string | null;
}

interface Drafted {
  /** The value behind the field, in words. */
  shown: string;
  /** What is wrong with the words typed, one sentence, or `null`. */
  fault: (text: string) => string | null;
  /** How the value will be shown once these words are taken. */
  normal: (text: string) => string;
  commit: (text: string) => void;
}

const NOT_TAKEN = 'This would do now, but was not taken; type it again.';

/** True for the keys that undo: Ctrl+Z, or the Command key where there is one. */
function isUndo(event: KeyboardEvent): boolean {
  return (event.ctrlKey || event.metaKey) && !event.shiftKey && event.key.toLowerCase() === 'z';
}

/** True where one is the other with something typed on to it, or taken off its end. */
function isHalf(one: string, other: string): boolean {
  return one.startsWith(other) || other.startsWith(one);
}

/**
 * Keeps the words as typed and hands them on as soon as they make sense. Words
 * that make none stay, with what is wrong with them, until they are mended,
 * undone, or the value behind them changes; meanwhile the value is what it was
 * before they were typed, not the half of them that made sense ("2" of "25").
 */
export function useDraft({ shown, fault, normal, commit }: Drafted) {
  const [draft, setDraft] = useState<Draft | null>(null);
  const current = draft?.shown === shown ? draft : null;
  // What was wrong may have changed meanwhile, by another field's doing.
  const wrong = current === null || current.wrong === null ? null : (fault(current.text) ?? NOT_TAKEN);
  return {
    text: current?.text ?? shown,
    wrong,
    onChange(text: string) {
      const mistake = fault(text);
      const typed = current ?? { text: shown, before: shown };
      if (mistake === null) {
        setDraft({ text, wrong: null, shown: normal(text), before: typed.before });
        commit(text);
        return;
      }
      const before = isHalf(typed.text, text) ? typed.before : shown;
      setDraft({ text, wrong: mistake, shown: before, before });
      if (before !== shown) commit(before);
    },
    onBlur() {
      if (wrong === null) setDraft(null);
    },
    onKeyDown(event: KeyboardEvent) {
      if (wrong === null || !(isUndo(event) || event.key === 'Escape')) return;
      event.preventDefault();
      // Words that were never taken are the first thing to undo; the job stays as it is.
      event.stopPropagation();
      setDraft(null);
    },
  };
}
