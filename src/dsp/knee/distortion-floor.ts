import { median } from '../statistics/median.ts';
import type { TraceCell } from './trace-cells.ts';

/** What distortion is expected at a level if nothing clips, and how far it scatters. */
export interface DistortionFloor {
  thdPercent: number;
  /** The level that this is for, and the slope of ln(THD) per dB there. */
  levelDbfs: number;
  slope: number;
  /** Standard deviation of ln(THD). */
  scatter: number;
}

/**
 * Where noise sets the floor, THD falls 1 dB per dB of level (0.115 in ln per dB); a driver's own third
 * harmonic grows by 2 dB per dB. Anything steeper is not a floor.
 */
const STEEPEST_FALL = -0.1152;
const STEEPEST_RISE = 0.2303;
/** A scatter smaller than this is luck: few dots, or a very quiet rig. */
const LEAST_SCATTER = 0.05;

const SLOPE_CELLS = 16;

/** Neighbours joined by their medians, so that all pairs stay few. */
function pooled(cells: readonly TraceCell[]): TraceCell[] {
  const each = Math.ceil(cells.length / SLOPE_CELLS);
  return Array.from({ length: Math.ceil(cells.length / each) }, (_, i) => {
    const group = cells.slice(i * each, (i + 1) * each);
    return {
      levelDbfs: median(group.map((cell) => cell.levelDbfs)),
      thdPercent: median(group.map((cell) => cell.thdPercent)),
      dots: group.length,
    };
  });
}

/** Median of all pairwise slopes (Theil 1950, Sen 1968): up to 29 % of wild dots do not bend it. */
function robustSlope(cells: readonly TraceCell[]): number {
  const slopes: number[] = [];
  for (let i = 0; i < cells.length; i++) {
    for (let j = i + 1; j < cells.length; j++) {
      const a = cells[i];
      const b = cells[j];
      if (a === undefined || b === undefined || b.levelDbfs === a.levelDbfs) continue;
      slopes.push((Math.log(b.thdPercent) - Math.log(a.thdPercent)) / (b.levelDbfs - a.levelDbfs));
    }
  }
  return slopes.length === 0 ? 0 : median(slopes);
}

/** The floor that these cells, all below `levelDbfs`, lead one to expect there. */
export function floorAt(levelDbfs: number, cells: readonly TraceCell[]): DistortionFloor {
  const slope = Math.min(STEEPEST_RISE, Math.max(STEEPEST_FALL, robustSlope(pooled(cells))));
  const levelled = cells.map((cell) => Math.log(cell.thdPercent) + slope * (levelDbfs - cell.levelDbfs));
  const middle = median(levelled);
  const scatter = 1.4826 * median(levelled.map((value) => Math.abs(value - middle)));
  return { thdPercent: Math.exp(middle), levelDbfs, slope, scatter: Math.max(LEAST_SCATTER, scatter) };
}
