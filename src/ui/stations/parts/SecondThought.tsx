import type { ReactNode } from 'react';

/** Stands in place of the button just pressed, where going on is possible and not advised. */
export function SecondThought({
  children,
  anyway,
  onAnyway,
  notYet,
  onNotYet,
}: {
  /** What speaks against it: a sentence, and what else there is to say. */
  children: ReactNode;
  anyway: string;
  onAnyway: () => void;
  notYet: string;
  onNotYet: () => void;
}) {
  return (
    <section className="sheet second-thought" aria-label="A second thought">
      {children}
      <div className="acts">
        <button type="button" className="act" onClick={onAnyway}>
          {anyway}
        </button>
        <button
          type="button"
          className="act main"
          // biome-ignore lint/a11y/noAutofocus: the safe answer takes the place of the button just pressed.
          autoFocus
          onClick={onNotYet}
        >
          {notYet}
        </button>
      </div>
    </section>
  );
}
