import { median } from '../statistics/median.ts';
import type { KneePoint } from './knee-point.ts';

const CELL_DB = 0.1;

/** One level of the trace: the dots of a tenth of a decibel, by their medians. */
export interface TraceCell {
  levelDbfs: number;
  thdPercent: number;
  dots: number;
}

/** Cells from the lowest level up. Dots without distortion (0, NaN) or level are left out. */
export function cellsOf(points: readonly KneePoint[]): TraceCell[] {
  const byCell = new Map<number, KneePoint[]>();
  for (const point of points) {
    if (!isDot(point)) continue;
    const key = Math.floor(point.levelDbfs / CELL_DB);
    const group = byCell.get(key);
    if (group === undefined) byCell.set(key, [point]);
    else group.push(point);
  }
  return [...byCell.entries()]
    .sort(([a], [b]) => a - b)
    .map(([, group]) => ({
      levelDbfs: median(group.map((p) => p.levelDbfs)),
      thdPercent: median(group.map((p) => p.thdPercent)),
      dots: group.length,
    }));
}

/** Whether a point has both its figures. */
export function isDot(point: KneePoint): boolean {
  return point.thdPercent > 0 && Number.isFinite(point.thdPercent) && Number.isFinite(point.levelDbfs);
}

/** For each cell, the least distortion of it and all above it. */
export function leastFromHereUp(cells: readonly TraceCell[]): number[] {
  const least: number[] = [];
  for (let k = cells.length - 1; k >= 0; k--) {
    least[k] = Math.min(cells[k]?.thdPercent ?? Infinity, least[k + 1] ?? Infinity);
  }
  return least;
}
