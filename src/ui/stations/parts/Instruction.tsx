import { type ReactNode, useSyncExternalStore } from 'react';
import { useFocusElseHere } from './focus-here.ts';

const never = () => () => {};
const no = () => false;

/** The one sentence that says what the hands do now. Where a press took its own button away, the focus comes here. */
export function Instruction({
  className = '',
  live = 'polite',
  session,
  recorded = 'Recorded: what this job asks for next stands at the foot of the page.',
  children,
}: {
  className?: string;
  /** Off where the sentence is spoken in another way. */
  live?: 'polite' | 'off';
  /** Whose record, once it is made, leaves nothing more to do here. */
  session?: { subscribe(listener: () => void): () => void; isAccepted(): boolean };
  /** What is said then. */
  recorded?: string;
  children: ReactNode;
}) {
  const isAccepted = useSyncExternalStore(session?.subscribe ?? never, session?.isAccepted ?? no);
  const here = useFocusElseHere<HTMLParagraphElement>();
  return (
    <p ref={here} tabIndex={-1} className={`do ${className}`.trim()} aria-live={live}>
      {isAccepted ? recorded : children}
    </p>
  );
}
