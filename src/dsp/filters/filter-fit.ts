/**
 * Which filters a magnitude response is: every pair of shapes is fitted, and the simplest that explains the data
 * is named; where none does, none is.
 */
import type { BandFit, FitData } from './band-fit.ts';
import { type FilterKind, slopeDbPerOctave } from './filter-response.ts';
import { fitDataOf } from './fit-data.ts';
import { lossAt, type Shape } from './loss.ts';
import { candidatesFor, sidesOf } from './pair-fits.ts';
import type { Alignment } from './prototype.ts';

export interface FittedFilter {
  kind: FilterKind;
  /** `null` where two alignments explain the data equally well. */
  alignment: Alignment | null;
  /** `null` where two orders explain the data equally well. */
  order: number | null;
  /** -3.01 dB, also where the alignment is open; for Linkwitz-Riley -6.02 dB; Bessel is normalised to -3.01 dB. */
  cutoffHz: number;
  /** Standard uncertainty (k = 1) from noise and fit. */
  cutoffUncertaintyHz: number;
  /** 6 dB per octave and order. */
  slopeDbPerOctave: number | null;
  /** Root mean square of what the whole fit leaves, weighted. */
  residualDb: number;
}

export interface FilterFinding {
  /** High-pass first; empty where the response is flat or is none of these filters. */
  filters: FittedFilter[];
  /** Of the best fit, also where it was refused. */
  residualDb: number;
  /** `filters`; `flat`: no filter's corner lies in the data; `none of these`: no fit is good enough. */
  verdict: 'filters' | 'flat' | 'none of these';
}

/** A response that the best fit misses by more (rms) is none of these filters. */
export const LARGEST_RESIDUAL_DB = 0.5;
/** A side counts as a filter only where the data show it fall this far: past its half-power point. */
const LEAST_FALL_DB = 3;
/** Chi squares that differ by less than this do not tell two fits apart: 3 and 5 standard deviations. */
const SAME_SHAPE = 9;
export const SAME_FIT = 25;

/** The best of the fits with the fewest filters that the data cannot tell from the best. */
function simplest(candidates: readonly BandFit[], scale: number): BandFit {
  const limit = candidates[0]!.chiSquare + SAME_FIT * scale;
  const alike = candidates.filter((fit) => fit.chiSquare <= limit);
  return alike.reduce((best, fit) => (sidesOf(fit) < sidesOf(best) ? fit : best));
}

const scratch = { lossDb: 0, perLogX: 0 };

function fallDb(shape: Shape, ratio: number): number {
  lossAt(shape.loss, ratio * ratio, scratch);
  return scratch.lossDb;
}

interface SideOf {
  kind: FilterKind;
  shape: (fit: BandFit) => Shape | null;
  cornerHz: (fit: BandFit) => number;
  sigma: (fit: BandFit) => number;
  /** From the corner to where the loss is 3.01 dB, a factor. */
  toHalfPower: (shape: Shape) => number;
  /** How far past the corner the data reach: above 1 is the stop band. */
  reach: (fit: BandFit, data: FitData) => number;
}

const SIDES: readonly SideOf[] = [
  {
    kind: 'high-pass',
    shape: (fit) => fit.highPass,
    cornerHz: (fit) => fit.highPassHz,
    sigma: (fit) => fit.highPassSigma,
    toHalfPower: (shape) => 1 / shape.halfPowerRatio,
    reach: (fit, data) => fit.highPassHz / data.frequenciesHz[0]!,
  },
  {
    kind: 'low-pass',
    shape: (fit) => fit.lowPass,
    cornerHz: (fit) => fit.lowPassHz,
    sigma: (fit) => fit.lowPassSigma,
    toHalfPower: (shape) => shape.halfPowerRatio,
    reach: (fit, data) => data.frequenciesHz.at(-1)! / fit.lowPassHz,
  },
];

interface Choice {
  chosen: BandFit;
  candidates: readonly BandFit[];
  data: FitData;
  scale: number;
  residualDb: number;
}

function fittedSide(side: SideOf, choice: Choice): FittedFilter[] {
  const { chosen, candidates, data, scale, residualDb } = choice;
  const shape = side.shape(chosen);
  if (shape === null || fallDb(shape, side.reach(chosen, data)) < LEAST_FALL_DB) return [];
  const rivals = candidates
    .filter((fit) => fit.chiSquare < chosen.chiSquare + SAME_SHAPE * scale)
    .map((fit) => side.shape(fit));
  const sameAlignment = rivals.every((rival) => rival?.alignment === shape.alignment);
  const cutoffHz = side.cornerHz(chosen) * (sameAlignment ? 1 : side.toHalfPower(shape));
  const sameOrder = rivals.every((rival) => rival?.order === shape.order);
  return [
    {
      kind: side.kind,
      alignment: sameAlignment ? shape.alignment : null,
      order: sameOrder ? shape.order : null,
      cutoffHz,
      cutoffUncertaintyHz: cutoffHz * side.sigma(chosen) * Math.sqrt(scale),
      slopeDbPerOctave: sameOrder ? slopeDbPerOctave(shape.order) : null,
      residualDb,
    },
  ];
}

/**
 * @param frequenciesHz ascending, 8 points at least
 * @param levelsDb magnitudes, their gain unknown
 * @param sigmasDb standard uncertainty of each from noise
 */
export function findFilters(
  frequenciesHz: Float64Array,
  levelsDb: Float64Array,
  sigmasDb: Float64Array,
): FilterFinding {
  const data = fitDataOf(frequenciesHz, levelsDb, sigmasDb);
  const candidates = candidatesFor(data);
  const scale = Math.max(1, candidates[0]!.chiSquare / levelsDb.length);
  const chosen = simplest(candidates, scale);
  const weight = data.weights.reduce((sum, w) => sum + w, 0);
  const residualDb = Math.sqrt(chosen.chiSquare / weight);
  if (residualDb > LARGEST_RESIDUAL_DB) return { filters: [], residualDb, verdict: 'none of these' };
  const choice = { chosen, candidates, data, scale, residualDb };
  const filters = SIDES.flatMap((side) => fittedSide(side, choice));
  return { filters, residualDb, verdict: filters.length === 0 ? 'flat' : 'filters' };
}
