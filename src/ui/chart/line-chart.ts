/** Chart.js for still pictures: no animation, no events, marks drawn by hand. */
import {
  Chart,
  type ChartConfiguration,
  type ChartDataset,
  LinearScale,
  LineElement,
  LogarithmicScale,
  type Plugin,
  PointElement,
  ScatterController,
} from 'chart.js';
import type { ChartColours } from './chart-colours.ts';
import { type ChartAxis, type ChartSeries, type ChartView, type LineShape, tickWords } from './chart-view.ts';

Chart.register(ScatterController, LinearScale, LogarithmicScale, PointElement, LineElement);

type Point = { x: number; y: number | null };

export interface LineChartHandle {
  show(view: ChartView): void;
  recolour(colours: ChartColours): void;
  destroy(): void;
}

const DASHES: Record<LineShape, number[]> = { solid: [], dashed: [9, 6], dotted: [2, 5], dots: [] };

function dataset(series: ChartSeries, colours: ChartColours): ChartDataset<'scatter', Point[]> {
  const colour = colours[series.tone];
  return {
    data: series.points.map(({ x, y }) => ({ x, y })),
    showLine: series.shape !== 'dots',
    borderColor: colour,
    backgroundColor: colour,
    borderWidth: 2.5,
    borderDash: DASHES[series.shape],
    pointRadius: series.shape === 'dots' ? 4.5 : 0,
    spanGaps: false,
  };
}

function axisOptions(axis: ChartAxis, colours: ChartColours, isX: boolean) {
  const { ticks } = axis;
  return {
    type: axis.scale === 'log' ? ('logarithmic' as const) : ('linear' as const),
    ...(axis.lowest === undefined ? {} : { min: axis.lowest }),
    ...(axis.highest === undefined ? {} : { max: axis.highest }),
    border: { color: colours.ink, width: 2 },
    grid: { color: colours.rule, display: !isX || axis.scale === 'log' },
    title: { display: true, text: axis.unit, color: colours.ink, font: { family: colours.sans, size: 14 } },
    ticks: {
      color: colours.ink,
      font: { family: colours.sans, size: 14 },
      maxRotation: 0,
      maxTicksLimit: 8,
      autoSkip: true,
      callback: (value: number | string) => tickWords(Number(value)),
    },
    ...(ticks === undefined
      ? {}
      : {
          afterBuildTicks(scale: { ticks: { value: number }[]; min: number; max: number }) {
            scale.ticks = ticks
              .filter((value) => value >= scale.min && value <= scale.max)
              .map((value) => ({ value }));
          },
        }),
  };
}

function marksPlugin(current: () => ChartView | null, colours: () => ChartColours): Plugin<'scatter'> {
  return {
    id: 'marks',
    afterDatasetsDraw(chart) {
      for (const [index, mark] of (current()?.marks ?? []).entries()) {
        const scale = chart.scales[mark.axis];
        if (scale === undefined || mark.at < scale.min || mark.at > scale.max) continue;
        drawMark(chart, mark, index, colours());
      }
    },
  };
}

function drawMark(
  chart: Chart,
  mark: NonNullable<ChartView['marks']>[number],
  index: number,
  colours: ChartColours,
): void {
  const { top, bottom, left, right } = chart.chartArea;
  const at = chart.scales[mark.axis]!.getPixelForValue(mark.at);
  const pen = chart.ctx;
  pen.save();
  pen.strokeStyle = colours[mark.tone];
  pen.fillStyle = colours[mark.tone];
  pen.lineWidth = 2;
  pen.setLineDash([7, 6]);
  pen.font = `14px ${colours.sans}`;
  pen.beginPath();
  if (mark.axis === 'x') {
    pen.moveTo(at, top);
    pen.lineTo(at, bottom);
    pen.stroke();
    const fits = at + 8 + pen.measureText(mark.words).width < right;
    pen.textAlign = fits ? 'left' : 'right';
    // Neighbouring marks' words stand on lines of their own.
    pen.fillText(mark.words, at + (fits ? 6 : -6), top + 14 + (index % 4) * 17);
  } else {
    pen.moveTo(left, at);
    pen.lineTo(right, at);
    pen.stroke();
    pen.textAlign = 'right';
    pen.fillText(mark.words, right - 4, at - 6 < top + 12 ? at + 16 : at - 6);
  }
  pen.restore();
}

function configuration(view: ChartView, colours: ChartColours): ChartConfiguration<'scatter', Point[]> {
  return {
    type: 'scatter',
    data: { datasets: view.series.map((series) => dataset(series, colours)) },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      layout: { padding: { right: 10, top: 4 } },
      scales: { x: axisOptions(view.x, colours, true), y: axisOptions(view.y, colours, false) },
    } as NonNullable<ChartConfiguration<'scatter', Point[]>['options']>,
  };
}

export function lineChart(canvas: HTMLCanvasElement, first: ChartView, ink: ChartColours): LineChartHandle {
  let colours = ink;
  let view = first;
  const plugin = marksPlugin(
    () => view,
    () => colours,
  );
  const chart = new Chart<'scatter', Point[]>(canvas, {
    ...configuration(view, colours),
    plugins: [plugin],
  });
  const redraw = () => {
    const { data, options } = configuration(view, colours);
    chart.data = data;
    if (options !== undefined) chart.options = options;
    chart.update('none');
  };
  return {
    show(next) {
      view = next;
      redraw();
    },
    recolour(next) {
      colours = next;
      redraw();
    },
    destroy: () => chart.destroy(),
  };
}
