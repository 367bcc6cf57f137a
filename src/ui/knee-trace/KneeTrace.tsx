import { useEffect, useRef } from 'react';
import type { GainState } from '../../procedure/gain/gain.ts';
import { coloursOf, followColours } from '../chart/chart-colours.ts';
import { usePaint } from '../live/paint.ts';
import './knee-trace.css';
import { type TraceChart, type TraceColours, traceChart } from './trace-chart.ts';
import { traceView, traceWords } from './trace-view.ts';

const REDRAW_MS = 90;
const WORDS_MS = 1000;

function traceColours(element: HTMLElement): TraceColours {
  const tint = getComputedStyle(element).getPropertyValue('--tint-over').trim();
  return { ...coloursOf(element), tintOver: tint };
}

/** Distortion against voltage as the control is turned. */
export function KneeTrace({ read }: { read: () => GainState | null }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const unit = useRef<HTMLSpanElement>(null);
  const words = useRef<HTMLSpanElement>(null);
  const chart = useRef<TraceChart | null>(null);
  const drawnAt = useRef({ dots: 0, words: 0 });
  useEffect(() => {
    const surface = canvas.current;
    if (surface === null) return;
    const made = traceChart(surface, traceColours(surface));
    chart.current = made;
    const stopFollowing = followColours(() => made.recolour(traceColours(surface)));
    return () => {
      stopFollowing();
      chart.current = null;
      made.destroy();
    };
  }, []);
  usePaint(() => {
    const state = read();
    const now = performance.now();
    if (state === null || chart.current === null || now - drawnAt.current.dots < REDRAW_MS) return;
    drawnAt.current.dots = now;
    const view = traceView(state);
    chart.current.show(view);
    if (unit.current) unit.current.textContent = view.unit === 'V' ? 'volts' : 'level, dBFS';
    if (words.current && now - drawnAt.current.words > WORDS_MS) {
      drawnAt.current.words = now;
      const said = traceWords(state);
      if (words.current.textContent !== said) words.current.textContent = said;
    }
  });
  return (
    <figure className="knee-trace sheet">
      <div className="canvas-room" aria-hidden="true">
        <canvas ref={canvas} />
      </div>
      <figcaption className="small soft">
        Distortion against <span ref={unit}>volts</span>. <span className="dot filled" aria-hidden="true" />
        Filled: this turn of the control. <span className="dot open" aria-hidden="true" />
        Open: earlier turns. <span ref={words}>No dots yet: they appear as the control is turned.</span>
      </figcaption>
    </figure>
  );
}
