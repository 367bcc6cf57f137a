import { useEffect, useRef } from 'react';
import { coloursOf, followColours } from './chart-colours.ts';
import type { ChartView, LineShape } from './chart-view.ts';
import './line-chart.css';
import { type LineChartHandle, lineChart } from './line-chart.ts';

const SAMPLE_DASH: Record<LineShape, string> = { solid: '', dashed: '7 4', dotted: '2 4', dots: '' };

function Sample({ shape, tone }: { shape: LineShape; tone: string }) {
  return (
    <svg width="30" height="10" aria-hidden="true" className={`sample ${tone}`}>
      {shape === 'dots' ? (
        <circle cx="15" cy="5" r="4" />
      ) : (
        <line x1="0" y1="5" x2="30" y2="5" strokeDasharray={SAMPLE_DASH[shape]} />
      )}
    </svg>
  );
}

/**
 * A still picture of curves, with its key beside it. `words` says in a sentence what a glance would see, for
 * whoever cannot see it.
 */
export function LineChart({ view, words }: { view: ChartView; words: string }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<LineChartHandle | null>(null);
  const latest = useRef(view);
  latest.current = view;
  useEffect(() => {
    const surface = canvas.current;
    if (surface === null) return;
    const made = lineChart(surface, latest.current, coloursOf(surface));
    chart.current = made;
    const stopFollowing = followColours(() => made.recolour(coloursOf(surface)));
    return () => {
      stopFollowing();
      chart.current = null;
      made.destroy();
    };
  }, []);
  useEffect(() => chart.current?.show(view), [view]);
  return (
    <figure className="line-chart sheet">
      <div className="canvas-room" aria-hidden="true">
        <canvas ref={canvas} />
      </div>
      <figcaption className="small soft">
        <ul className="key">
          {view.series.map(({ name, shape, tone }) => (
            <li key={name}>
              <Sample shape={shape} tone={tone} /> {name}
            </li>
          ))}
        </ul>
        <p>{words}</p>
      </figcaption>
    </figure>
  );
}
