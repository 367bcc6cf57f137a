/** Bars to either side of nought, each with the limits that it was judged by. */
import type { ReportBars } from '../model.ts';
import { place } from './escape.ts';
import { drawing, label } from './svg.ts';

const WIDTH = 340;
const ROW = 44;
const FOOT = 22;
const MIDDLE = WIDTH / 2;
/** Half of the ruler's length on paper. */
const REACH = 120;

function barShape(bar: ReportBars['bars'][number], index: number, perUnit: number): string {
  const y = index * ROW;
  const limits =
    bar.limit === null
      ? ''
      : [-bar.limit, bar.limit]
          .map((at) => `<path class="mark" d="M${place(MIDDLE + at * perUnit)} ${y + 18}v20"/>`)
          .join('');
  const length = (bar.value ?? 0) * perUnit;
  const solid =
    bar.value === null
      ? ''
      : `<rect class="bar" x="${place(Math.min(MIDDLE, MIDDLE + length))}" y="${y + 22}" width="${place(Math.abs(length))}" height="12"/>`;
  return (
    label(4, y + 13, bar.name) +
    label(WIDTH - 4, y + 13, bar.figure, 'class="words" text-anchor="end"') +
    `<path class="grid" d="M${MIDDLE - REACH} ${y + 28}h${2 * REACH}"/>${solid}${limits}` +
    `<path class="axis" d="M${MIDDLE} ${y + 18}v20"/>`
  );
}

/** @param id unique on the page */
export function barsSvg(picture: ReportBars, id: string): string {
  const { bars, unit } = picture;
  const most = Math.max(
    ...bars.flatMap(({ value, limit }) => [Math.abs(value ?? 0), (limit ?? 0) * 1.5]),
    1e-9,
  );
  const perUnit = REACH / most;
  const height = bars.length * ROW + FOOT;
  const foot = label(MIDDLE, height - 6, `0 ${unit}`, 'text-anchor="middle"');
  const limit = bars.find((bar) => bar.limit !== null)?.limit ?? null;
  const ends =
    limit === null
      ? ''
      : label(MIDDLE - limit * perUnit, height - 6, `−${limit}`, 'text-anchor="middle"') +
        label(MIDDLE + limit * perUnit, height - 6, `+${limit}`, 'text-anchor="middle"');
  const shapes = bars.map((bar, index) => barShape(bar, index, perUnit)).join('');
  return drawing(id, { width: WIDTH, height }, picture, shapes + foot + ends);
}
