/** A line chart for paper: lines told apart by dashes, written beside, never by colour. */
import type { ReportChart, ReportLine, ReportMark, ReportSeries } from '../model.ts';
import { share, ticksOf, tickWords } from './axis.ts';
import { place } from './escape.ts';
import { drawing, label } from './svg.ts';

const SIZE = { width: 340, height: 226 } as const;
/** The frame of the plot. */
const FRAME = { left: 54, right: 330, bottom: 188 } as const;
const LEGEND_LINE = 15;
const DASHES: Record<ReportLine, string> = { solid: '', dashed: '7 4', dotted: '1.5 3.5', dots: '' };

interface Plot {
  chart: ReportChart;
  top: number;
  xAt(value: number): number;
  yAt(value: number): number;
}

function plotOf(chart: ReportChart): Plot {
  const top = chart.series.length > 1 ? 10 + LEGEND_LINE : 10;
  return {
    chart,
    top,
    xAt: (value) => FRAME.left + share(chart.x, value) * (FRAME.right - FRAME.left),
    yAt: (value) => FRAME.bottom - share(chart.y, value) * (FRAME.bottom - top),
  };
}

function grid({ chart, top, xAt, yAt }: Plot): string {
  const down = ticksOf(chart.x, 6).map(
    (tick) =>
      `<path class="grid" d="M${place(xAt(tick))} ${top}V${FRAME.bottom}"/>` +
      label(xAt(tick), FRAME.bottom + 14, tickWords(tick), 'text-anchor="middle"'),
  );
  const across = ticksOf(chart.y, 5).map(
    (tick) =>
      `<path class="grid" d="M${FRAME.left} ${place(yAt(tick))}H${FRAME.right}"/>` +
      label(FRAME.left - 5, yAt(tick) + 4, tickWords(tick), 'text-anchor="end"'),
  );
  return down.join('') + across.join('');
}

function titles({ chart, top }: Plot): string {
  const middle = (top + FRAME.bottom) / 2;
  return (
    label((FRAME.left + FRAME.right) / 2, FRAME.bottom + 31, chart.x.title, 'text-anchor="middle"') +
    label(11, middle, chart.y.title, `text-anchor="middle" transform="rotate(-90 11 ${middle})"`)
  );
}

/** A path for each stretch without a gap. */
function lineShape({ points, line }: ReportSeries, { xAt, yAt }: Plot): string {
  let pen = 'M';
  let path = '';
  for (const { x, y } of points) {
    if (y === null) pen = 'M';
    else {
      path += `${pen}${place(xAt(x))} ${place(yAt(y))}`;
      pen = 'L';
    }
  }
  return path === '' ? '' : `<path class="line" stroke-dasharray="${DASHES[line]}" d="${path}"/>`;
}

function dotShapes({ points }: ReportSeries, { xAt, yAt }: Plot): string {
  return points
    .map(({ x, y }) => (y === null ? '' : `<circle cx="${place(xAt(x))}" cy="${place(yAt(y))}" r="2"/>`))
    .join('');
}

function markShape({ axis, at, words }: ReportMark, index: number, plot: Plot): string {
  if (axis === 'y') {
    const y = plot.yAt(at);
    return (
      `<path class="mark" d="M${FRAME.left} ${place(y)}H${FRAME.right}"/>` +
      label(FRAME.right - 3, y - 4, words, 'class="words" text-anchor="end"')
    );
  }
  const x = plot.xAt(at);
  const isLate = x > (FRAME.left + FRAME.right) / 2;
  // Neighbours write their words on lines of their own.
  const y = plot.top + 12 + (index % 4) * 13;
  return (
    `<path class="mark" d="M${place(x)} ${plot.top}V${FRAME.bottom}"/>` +
    label(x + (isLate ? -4 : 4), y, words, `class="words" text-anchor="${isLate ? 'end' : 'start'}"`)
  );
}

function legend({ chart }: Plot): string {
  if (chart.series.length < 2) return '';
  const room = (FRAME.right - FRAME.left) / chart.series.length;
  return chart.series
    .map(({ name, line }, index) => {
      const x = FRAME.left + index * room;
      return `<path class="line" stroke-dasharray="${DASHES[line]}" d="M${place(x)} 11h22"/>${label(x + 27, 15, name)}`;
    })
    .join('');
}

/** @param id unique on the page */
export function chartSvg(chart: ReportChart, id: string): string {
  const plot = plotOf(chart);
  const { top } = plot;
  const frame = `x="${FRAME.left}" y="${top}" width="${FRAME.right - FRAME.left}" height="${FRAME.bottom - top}"`;
  const lines = chart.series.map((one) =>
    one.line === 'dots' ? dotShapes(one, plot) : lineShape(one, plot),
  );
  const shapes =
    `<clipPath id="${id}-c"><rect ${frame}/></clipPath>${grid(plot)}<rect class="frame" ${frame}/>` +
    `<g clip-path="url(#${id}-c)">${lines.join('')}</g>` +
    chart.marks.map((mark, index) => markShape(mark, index, plot)).join('') +
    titles(plot) +
    legend(plot);
  return drawing(id, SIZE, chart, shapes);
}
