import type { ReactElement } from 'react';
import type { Mark } from './mark.ts';

const SHAPES: Record<Mark, ReactElement> = {
  'not-done': <circle cx="8" cy="8" r="5.5" />,
  'under-way': (
    <>
      <circle cx="8" cy="8" r="5.5" />
      <path d="M8 2.5a5.5 5.5 0 0 0 0 11z" fill="currentColor" />
    </>
  ),
  done: <circle cx="8" cy="8" r="5.5" fill="currentColor" />,
  stale: <path d="M8 2.5l6 11H2z" />,
  'out-of-tolerance': <path d="M3 3l10 10M13 3L3 13" strokeWidth="2.5" />,
};

/** A drawn mark: glyphs of these shapes differ too much between devices. The words beside it speak. */
export function MarkSign({ mark }: { mark: Mark }) {
  return (
    <svg className="marksign" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" focusable="false">
      <g fill="none" stroke="currentColor" strokeWidth="1.8" strokeLinejoin="round">
        {SHAPES[mark]}
      </g>
    </svg>
  );
}
