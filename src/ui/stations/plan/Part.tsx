import type { ReactNode } from 'react';
import { CHAIN_TITLE, type PartName, partElement } from './part-name.ts';

/** One part of the chain, folded away until it is wanted. */
export function Part({
  part,
  title,
  detail = '',
  children,
}: {
  part: PartName;
  title: string;
  detail?: string;
  children: ReactNode;
}) {
  return (
    <details className="part" {...partElement(part)}>
      <summary>
        <span>
          <b>{title}</b>
          {detail !== '' && <span className="soft"> {detail}</span>}
        </span>
      </summary>
      <div className="part-body">{children}</div>
    </details>
  );
}

/** Copy and remove, and why they are not offered where they are not. */
export function PartActs({
  name,
  onCopy,
  onRemove,
  whyNot,
}: {
  name: string;
  onCopy: (() => void) | null;
  onRemove: (() => void) | null;
  /** One sentence where one of the two is missing. */
  whyNot: string | null;
}) {
  const remove = () => {
    if (onRemove === null) return;
    // Its button goes with it.
    document.getElementById(CHAIN_TITLE)?.focus({ preventScroll: true });
    onRemove();
  };
  return (
    <>
      <div className="acts">
        <button type="button" className="act" disabled={onCopy === null} onClick={onCopy ?? undefined}>
          Duplicate {name}
        </button>
        <button type="button" className="act" disabled={onRemove === null} onClick={remove}>
          Remove {name}
        </button>
      </div>
      {whyNot !== null && <p className="small soft">{whyNot}</p>}
    </>
  );
}

/** What is to be said of a part before it is used. */
export function PartWarnings({ sentences }: { sentences: readonly { sentence: string; grave: boolean }[] }) {
  if (sentences.length === 0) return null;
  return (
    <ul className="plainlist small">
      {sentences.map(({ sentence, grave }) => (
        <li key={sentence} className={grave ? 'note over' : 'note'}>
          {sentence}
        </li>
      ))}
    </ul>
  );
}
