/**
 * Fast figures are painted straight into the page, once per frame and only
 * after something new has come in; React never sees them.
 */
import { useEffect, useRef } from 'react';

const painters = new Set<() => void>();
let scheduled = 0;

function paintAll(): void {
  scheduled = 0;
  for (const painter of painters) painter();
}

/** Asks for one repaint in the next frame, however often it is called before. */
export function requestPaint(): void {
  if (scheduled === 0) scheduled = requestAnimationFrame(paintAll);
}

/** Runs `painter` after each batch of new readings, and once when the component appears. */
export function usePaint(painter: () => void): void {
  const latest = useRef(painter);
  useEffect(() => {
    latest.current = painter;
    painter();
  });
  useEffect(() => {
    const run = () => latest.current();
    painters.add(run);
    return () => {
      painters.delete(run);
    };
  }, []);
}
