import type { ReactNode } from 'react';
import { useFocusElseHere } from './focus-here.ts';

/** The one sentence that says what the hands do now. Where a press took its own button away, the focus comes here. */
export function Instruction({
  className = '',
  live = 'polite',
  children,
}: {
  className?: string;
  /** Off where the sentence is spoken in another way. */
  live?: 'polite' | 'off';
  children: ReactNode;
}) {
  const here = useFocusElseHere<HTMLParagraphElement>();
  return (
    <p ref={here} tabIndex={-1} className={`do ${className}`.trim()} aria-live={live}>
      {children}
    </p>
  );
}
