import { useRef } from 'react';
import { usePaint } from '../live/paint.ts';

/** A live phrase that is not one of the published figures. */
export function LiveText({ read, className }: { read: () => string; className?: string }) {
  const span = useRef<HTMLSpanElement>(null);
  usePaint(() => {
    const text = read();
    if (span.current !== null && span.current.textContent !== text) span.current.textContent = text;
  });
  return <span ref={span} {...(className === undefined ? {} : { className })} />;
}
