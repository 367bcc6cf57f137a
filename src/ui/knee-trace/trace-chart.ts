/** Chart.js, tuned for a few hundred live dots: no animation, no parsing, no events, lines drawn by hand. */
import {
  Chart,
  type ChartConfiguration,
  LinearScale,
  LogarithmicScale,
  type Plugin,
  PointElement,
  ScatterController,
} from 'chart.js';
import { fixed } from '../../job/format/number.ts';
import { type Dot, HIGHEST_PERCENT, LOWEST_PERCENT, type TraceView } from './trace-view.ts';

Chart.register(ScatterController, LinearScale, LogarithmicScale, PointElement);

export interface TraceColours {
  ink: string;
  soft: string;
  rule: string;
  under: string;
  over: string;
  tintOver: string;
  sans: string;
}

export interface TraceChart {
  show(view: TraceView): void;
  recolour(colours: TraceColours): void;
  destroy(): void;
}

function mark(chart: Chart, x: number, label: string, colour: string, dashed: boolean, side: -1 | 1): void {
  const scale = chart.scales.x;
  if (scale === undefined) return;
  const { top, bottom, left, right } = chart.chartArea;
  const at = scale.getPixelForValue(x);
  const pen = chart.ctx;
  pen.save();
  pen.strokeStyle = colour;
  pen.fillStyle = colour;
  pen.lineWidth = dashed ? 2 : 3;
  pen.setLineDash(dashed ? [7, 6] : []);
  pen.beginPath();
  pen.moveTo(at, top);
  pen.lineTo(at, bottom);
  pen.stroke();
  const room = side === 1 ? right - at : at - left;
  const turned = room < pen.measureText(label).width + 20;
  const way = turned ? -side : side;
  pen.textAlign = way === 1 ? 'left' : 'right';
  // Beyond the knee the ground near the axis stays free of dots; short of it, the middle does.
  const height = dashed ? top + 16 : turned ? (top + bottom) / 2 : bottom - 12;
  pen.fillText(label, at + way * 7, height);
  pen.restore();
}

/** Target and knee, and the ground beyond the knee. */
function linesPlugin(current: () => TraceView | null, colours: () => TraceColours): Plugin<'scatter'> {
  return {
    id: 'targetAndKnee',
    beforeDatasetsDraw(chart) {
      const view = current();
      const scale = chart.scales.x;
      if (view === null || scale === undefined) return;
      const ink = colours();
      const pen = chart.ctx;
      const { top, bottom, right } = chart.chartArea;
      pen.font = `700 15px ${ink.sans}`;
      if (view.knee !== null) {
        const from = scale.getPixelForValue(view.knee);
        pen.fillStyle = ink.tintOver;
        pen.fillRect(from, top, Math.max(0, right - from), bottom - top);
        mark(chart, view.knee, `knee ${fixed(view.knee, 1)}`, ink.over, false, 1);
      }
      pen.font = `15px ${ink.sans}`;
      if (view.target !== null)
        mark(chart, view.target, `target ${fixed(view.target, 1)}`, ink.ink, true, -1);
    },
  };
}

function percentTick(value: number | string): string {
  const exponent = Math.log10(Number(value));
  return Math.abs(exponent - Math.round(exponent)) < 1e-6 ? `${Number(value)} %` : '';
}

/** All options in the colours of the moment; Chart.js is given a whole new set when they change. */
function options(ink: TraceColours): NonNullable<ChartConfiguration<'scatter', Dot[]>['options']> {
  const ticks = { color: ink.ink, font: { family: ink.sans, size: 14 } };
  const border = { color: ink.ink, width: 2 };
  return {
    animation: false,
    parsing: false,
    normalized: true,
    responsive: true,
    maintainAspectRatio: false,
    events: [],
    clip: false,
    layout: { padding: { right: 12, top: 4 } },
    scales: {
      x: {
        type: 'linear',
        border,
        grid: { display: false },
        ticks: {
          ...ticks,
          maxRotation: 0,
          maxTicksLimit: 7,
          callback: (value) => String(value).replace('-', '−'),
        },
      },
      y: {
        type: 'logarithmic',
        min: LOWEST_PERCENT,
        max: HIGHEST_PERCENT,
        border,
        grid: { color: ink.rule },
        ticks: { ...ticks, callback: percentTick, autoSkip: false },
        afterBuildTicks(axis) {
          axis.ticks = [0.001, 0.01, 0.1, 1, 10].map((value) => ({ value }));
        },
      },
    },
  };
}

function configuration(plugin: Plugin<'scatter'>, ink: TraceColours): ChartConfiguration<'scatter', Dot[]> {
  return {
    type: 'scatter',
    data: {
      datasets: [
        { data: [], pointRadius: 4.5, borderWidth: 2, backgroundColor: 'transparent' },
        { data: [], pointRadius: 4.5, borderWidth: 0 },
        { data: [], pointRadius: 9, borderWidth: 4, backgroundColor: 'transparent' },
      ],
    },
    options: options(ink),
    plugins: [plugin],
  };
}

function paintDots(chart: Chart<'scatter', Dot[]>, ink: TraceColours): void {
  const [earlier, now, latest] = chart.data.datasets;
  if (earlier) earlier.borderColor = ink.soft;
  if (now) now.backgroundColor = ink.under;
  if (latest) latest.borderColor = ink.under;
}

function stretch(chart: Chart<'scatter', Dot[]>, view: TraceView | null): void {
  const x = chart.options.scales?.x;
  if (x === undefined || view === null) return;
  x.min = view.lowest;
  x.max = view.highest;
}

export function traceChart(canvas: HTMLCanvasElement, first: TraceColours): TraceChart {
  let colours = first;
  let view: TraceView | null = null;
  const lines = linesPlugin(
    () => view,
    () => colours,
  );
  const chart = new Chart<'scatter', Dot[]>(canvas, configuration(lines, colours));
  paintDots(chart, colours);
  return {
    show(next) {
      view = next;
      stretch(chart, view);
      const [earlier, now, latest] = chart.data.datasets;
      if (earlier) earlier.data = next.earlierTurns;
      if (now) now.data = next.thisTurn;
      if (latest) latest.data = next.latest === null ? [] : [next.latest];
      chart.update('none');
    },
    recolour(next) {
      colours = next;
      chart.options = options(colours);
      paintDots(chart, colours);
      stretch(chart, view);
      chart.update('none');
    },
    destroy: () => chart.destroy(),
  };
}
