import { type DistortionFloor, floorAt, type TraceCell } from './distortion-floor.ts';
import type { FoundKnee } from './found-knee.ts';
import type { TracePoint } from './gain.ts';
import { levelAboveKneeDb } from './limiter-table.ts';
import { median } from './median.ts';

const CELL_DB = 0.1;
/** The floor is learnt from this much of the turn below the point in question. */
const FLOOR_REACH_DB = 6;
const FLOOR_GAP_DB = 0.15;
const FLOOR_CELLS = 4;
/** Distortion has left its floor when it stands above it by all three of these. */
const ABOVE_RATIO = 1.5;
const ABOVE_SCATTERS = 5;
const ABOVE_PERCENT = 0.1;
/** A knee is a corner: within one decibel of level, distortion must be this many times its floor. */
const CORNER_DB = 1;
const CORNER_RATIO = 3;
/** A floor may have fallen to 0.7 of the middle below, half of `FLOOR_REACH_DB` on; 3 times that is 2.1. */
const HARDLY_RATIO = 2;
/** One wild dot is not a knee: so many cells and dots must stand above, and none higher up may fall back. */
const CELLS_ABOVE = 2;
const DOTS_ABOVE = 4;
/** What is left when all else is perfect: the window over which a level is measured while it moves. */
const LEAST_UNCERTAINTY_DB = 0.05;

/**
 * The level at which distortion leaves its floor, from the dots of one turn in any order.
 *
 * Cells of 0.1 dB by their medians; a robust floor below each cell, allowed to fall with level (noise) or to
 * rise gently (a driver's own distortion); the lowest cell from which everything upward stands clear of the
 * floor; the crossing by interpolation of ln(THD) between that cell and the one below it; less the level by
 * which an ideal limiter is already over when its distortion is that large. Half of that last step counts
 * as uncertainty, because amplifiers are not ideal limiters.
 *
 * `null` where no corner is seen: a clean turn has none.
 */
export function kneeFromTrace(points: readonly TracePoint[]): FoundKnee | null {
  const cells = cellsOf(points);
  const leastAbove = leastFromHereUp(cells);
  for (let k = FLOOR_CELLS; k < cells.length; k++) {
    const cell = cells[k];
    if (cell === undefined) break;
    if ((leastAbove[k] ?? 0) <= ABOVE_PERCENT) continue;
    const below = cells.filter(
      (c) => c.levelDbfs < cell.levelDbfs - FLOOR_GAP_DB && c.levelDbfs > cell.levelDbfs - FLOOR_REACH_DB,
    );
    if (below.length < FLOOR_CELLS) continue;
    const middleBelow = median(below.map((c) => c.thdPercent));
    // The robust floor costs all pairs of cells; a level that hardly passes the middle below needs none.
    if ((leastAbove[k] ?? 0) <= middleBelow) continue;
    if (highestNear(cells, k) < HARDLY_RATIO * middleBelow) continue;
    const floor = floorAt(cell.levelDbfs, below);
    if (!isCorner(cells.slice(k), floor)) continue;
    return crossing(cells[k - 1] ?? cell, cell, floor);
  }
  return null;
}

/** Most distortion of a cell and those up to `CORNER_DB` above it. */
function highestNear(cells: readonly TraceCell[], k: number): number {
  const endDbfs = (cells[k]?.levelDbfs ?? 0) + CORNER_DB;
  let highest = 0;
  for (let i = k; i < cells.length && (cells[i]?.levelDbfs ?? Infinity) <= endDbfs; i++) {
    highest = Math.max(highest, cells[i]?.thdPercent ?? 0);
  }
  return highest;
}

/** For each cell, the least distortion of it and all above it. */
function leastFromHereUp(cells: readonly TraceCell[]): number[] {
  const least: number[] = [];
  for (let k = cells.length - 1; k >= 0; k--) {
    least[k] = Math.min(cells[k]?.thdPercent ?? Infinity, least[k + 1] ?? Infinity);
  }
  return least;
}

function cellsOf(points: readonly TracePoint[]): TraceCell[] {
  const byCell = new Map<number, TracePoint[]>();
  for (const point of points) {
    if (!(point.thdPercent > 0) || !Number.isFinite(point.levelDbfs)) continue;
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

function threshold(floor: DistortionFloor): number {
  return Math.max(
    floor.thdPercent * ABOVE_RATIO,
    floor.thdPercent * Math.exp(ABOVE_SCATTERS * floor.scatter),
    floor.thdPercent + ABOVE_PERCENT,
  );
}

function isCorner(above: readonly TraceCell[], floor: DistortionFloor): boolean {
  const start = above[0];
  if (start === undefined || above.length < CELLS_ABOVE) return false;
  if (above.reduce((sum, cell) => sum + cell.dots, 0) < DOTS_ABOVE) return false;
  const clear = threshold(floor);
  if (!above.every((cell) => cell.thdPercent > clear)) return false;
  return above.some(
    (cell) =>
      cell.levelDbfs <= start.levelDbfs + CORNER_DB && cell.thdPercent >= CORNER_RATIO * floor.thdPercent,
  );
}

function crossing(under: TraceCell, over: TraceCell, floor: DistortionFloor): FoundKnee {
  const clear = threshold(floor);
  const excess = Math.sqrt(clear ** 2 - floor.thdPercent ** 2);
  const gapDb = over.levelDbfs - under.levelDbfs;
  const from = Math.log(Math.min(under.thdPercent, clear));
  const to = Math.log(over.thdPercent);
  const share = to > from ? (Math.log(clear) - from) / (to - from) : 1;
  const alreadyOverDb = levelAboveKneeDb(excess);
  const levelDbfs = under.levelDbfs + share * gapDb - alreadyOverDb;
  return {
    levelDbfs,
    uncertaintyDb: Math.hypot(gapDb / Math.sqrt(12), alreadyOverDb / 2, LEAST_UNCERTAINTY_DB),
  };
}
