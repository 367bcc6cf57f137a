import { useEffect, useRef } from 'react';

const EVERY_MS = 1000;

/** Tells a screen reader what the screen shows, at most once a second and only when the words change. */
export function Announcer({ read }: { read: () => string }) {
  const box = useRef<HTMLParagraphElement>(null);
  const latest = useRef(read);
  useEffect(() => {
    latest.current = read;
  });
  useEffect(() => {
    const timer = setInterval(() => {
      const words = latest.current();
      if (box.current !== null && box.current.textContent !== words) box.current.textContent = words;
    }, EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  return <p ref={box} className="unseen" role="status" aria-live="polite" />;
}
