/**
 * Filters that are as they should be, and less bass ahead of them: a radio that guards its speakers, or an equaliser.
 * A fit of filters alone takes that for other corners and slopes. Only a shelf of first order is looked for: one of
 * second order resembles the high-pass behind it at another corner (10 dB around 120 Hz ahead of 80 Hz: 104 Hz).
 */
import type { LevelPoints } from '../response/level-points.ts';
import { type BandFit, type Corners, fitBand } from './band-fit.ts';
import { LARGEST_RESIDUAL_DB, SAME_FIT } from './filter-fit.ts';
import { fitDataOf } from './fit-data.ts';
import { SHAPES, type Shape } from './loss.ts';
import type { Alignment } from './prototype.ts';

/** First order, `|H|^2 = (g^2 + x) / (1 + x)`, `x = (f / corner)^2`: flat above, lower by `lossDb` far below. */
interface Shelf {
  cornerHz: number;
  lossDb: number;
}

/** A shelf, and what the filters behind it are then. */
export interface BassShelf extends Shelf {
  /** `null` where that side has no filter. */
  highPassHz: number | null;
  lowPassHz: number | null;
  /** Root mean square of what the fit leaves, weighted. */
  residualDb: number;
}

export interface KnownFilter {
  alignment: Alignment;
  order: number;
  cutoffHz: number;
}

/** Of the filters only the corners are open. */
export interface KnownFilters {
  highPass: KnownFilter | null;
  lowPass: KnownFilter | null;
}

/** Where bass is taken away, and how much of it: what the search begins from. */
const CORNERS_HZ = [35, 50, 70, 100, 140, 200, 280, 400];
const LOSSES_DB = [2, 5, 8, 12, 18];
/** First steps of the search, in ln corner and in dB; it ends at steps of a hundredth of a decibel. */
const FIRST_STEP = { logCorner: 0.25, lossDb: 1.5 };
const LAST_STEP_DB = 0.01;

/** What a shelf takes away at a frequency, dB. */
export function shelfLossDb({ cornerHz, lossDb }: Shelf, frequencyHz: number): number {
  const x = (frequencyHz / cornerHz) ** 2;
  return 10 * Math.log10((1 + x) / (10 ** (-lossDb / 10) + x));
}

/**
 * The shelf that explains a response where no pair of filters does as well.
 *
 * @param points the stretch that filters were fitted in; their gain unknown
 * @param filtersResidualDb what the best fit of filters alone left
 * @returns `null` where filters alone explain it as well, or neither does; also for an order that no shape here has
 */
export function findBassShelf(
  points: LevelPoints,
  known: KnownFilters,
  filtersResidualDb: number,
): BassShelf | null {
  const highPass = shapeOf(known.highPass);
  const lowPass = shapeOf(known.lowPass);
  if (highPass === undefined || lowPass === undefined) return null;
  const data = fitDataOf(points.frequenciesHz, points.levelsDb, points.sigmasDb);
  const start = startOf(known, highPass, lowPass, points.frequenciesHz);
  const fitBehind = (shelf: Shelf): ShelvedFit => {
    const levelsDb = data.levelsDb.map((level, i) => level + shelfLossDb(shelf, data.frequenciesHz[i]!));
    return { shelf, fit: fitBand({ ...data, levelsDb }, highPass, lowPass, start) };
  };
  const { shelf, fit } = bestFit(fitBehind);
  const weight = data.weights.reduce((sum, w) => sum + w, 0);
  const residualDb = Math.sqrt(fit.chiSquare / weight);
  const scale = Math.max(1, fit.chiSquare / data.levelsDb.length);
  const isBetter = fit.chiSquare + SAME_FIT * scale < filtersResidualDb ** 2 * weight;
  if (!isBetter || residualDb > LARGEST_RESIDUAL_DB) return null;
  const hertz = (corner: number) => (Number.isNaN(corner) ? null : corner);
  return { ...shelf, highPassHz: hertz(fit.highPassHz), lowPassHz: hertz(fit.lowPassHz), residualDb };
}

interface ShelvedFit {
  shelf: Shelf;
  fit: BandFit;
}

function better(...fits: readonly ShelvedFit[]): ShelvedFit {
  return fits.reduce((best, one) => (one.fit.chiSquare < best.fit.chiSquare ? one : best));
}

/** The best of a coarse grid, then step by step downhill, the steps halved where none leads on. */
function bestFit(fitBehind: (shelf: Shelf) => ShelvedFit): ShelvedFit {
  const grid = CORNERS_HZ.flatMap((cornerHz) => LOSSES_DB.map((lossDb) => ({ cornerHz, lossDb })));
  let best = better(...grid.map(fitBehind));
  for (let share = 1; share * FIRST_STEP.lossDb > LAST_STEP_DB; ) {
    const { cornerHz, lossDb } = best.shelf;
    const factor = Math.exp(share * FIRST_STEP.logCorner);
    const step = share * FIRST_STEP.lossDb;
    const around = [
      { cornerHz: cornerHz * factor, lossDb },
      { cornerHz: cornerHz / factor, lossDb },
      { cornerHz, lossDb: lossDb + step },
      { cornerHz, lossDb: Math.max(0, lossDb - step) },
    ];
    const next = better(best, ...around.map(fitBehind));
    if (next === best) share /= 2;
    best = next;
  }
  return best;
}

function shapeOf(filter: KnownFilter | null): Shape | null | undefined {
  if (filter === null) return null;
  return SHAPES.find(({ alignment, order }) => alignment === filter.alignment && order === filter.order);
}

/** Half-power points of the known filters; the ends of the data where there is none. */
function startOf(
  { highPass, lowPass }: KnownFilters,
  highShape: Shape | null,
  lowShape: Shape | null,
  frequenciesHz: Float64Array,
): Corners {
  return {
    highPassHz: (highPass?.cutoffHz ?? frequenciesHz[0]!) / (highShape?.halfPowerRatio ?? 1),
    lowPassHz: (lowPass?.cutoffHz ?? frequenciesHz.at(-1)!) * (lowShape?.halfPowerRatio ?? 1),
  };
}
