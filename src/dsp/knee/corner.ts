import { median } from '../statistics/median.ts';
import { type DistortionFloor, floorAt } from './distortion-floor.ts';
import { leastFromHereUp, type TraceCell } from './trace-cells.ts';

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

export interface Corner {
  /** The lowest cell that stands clear of the floor, with all above it. */
  levelDbfs: number;
  floor: DistortionFloor;
}

/**
 * Where distortion leaves its floor. The floor below each cell is robust, and allowed to fall with level
 * (noise) or to rise gently (a driver's own distortion); the corner is the lowest cell from which everything
 * upward stands clear of it.
 *
 * @returns `null` where no corner is seen: a clean turn has none
 */
export function findCorner(cells: readonly TraceCell[]): Corner | null {
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
    if (isCorner(cells.slice(k), floor)) return { levelDbfs: cell.levelDbfs, floor };
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
