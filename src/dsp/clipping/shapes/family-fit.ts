import { solveThree } from '../../linear-systems/solve-three.ts';
import { BLIND_FROM_HZ } from '../fit-weights.ts';
import type { HarmonicRatios } from '../harmonic-ratios.ts';
import type { ShapeFamily, ShapePattern } from './shape-family.ts';

/** Orders above this add nothing to the pattern, and live readings want the time. */
const HIGHEST_ORDER = 25;
/** How closely a path and a model of a real stage are expected to agree, beside noise. */
const PATH_TOLERANCE = 0.02;
/** Room on the grid, against the largest harmonic, so that the nearest point wins. */
const GRID_SLACK = 0.03;
const DESCENTS = 2;
const MOST_STEPS = 10;
/** 0.001 dB of drive, 0.0003 of the rest. */
const SETTLED = 3e-4;
/** A grid point this far off, per term and in the slack's own units, leads nowhere. */
const HOPELESS = 150;

export interface FamilyFit {
  family: ShapeFamily;
  parameters: readonly number[];
  pattern: ShapePattern;
  /** Weighted sum of squares left over. */
  misfit: number;
}

/**
 * The member of a family nearest to the harmonics, from the 2nd up, by damped least squares from a grid.
 *
 * @returns `null` where no point of the grid is anywhere near
 */
export function fitFamily(family: ShapeFamily, ratios: HarmonicRatios): FamilyFit | null {
  const highest = Math.min(ratios.highestOrder, HIGHEST_ORDER);
  const variances = gridVariances(ratios, highest);
  const onGrid = gridOf(family)
    .map(({ parameters, pattern }) => ({ parameters, misfit: misfitOf(ratios, pattern, variances) }))
    .filter(({ misfit }) => misfit < HOPELESS * 2 * variances.length)
    .sort((a, b) => a.misfit - b.misfit)
    .slice(0, DESCENTS);
  let best: FamilyFit | null = null;
  for (const { parameters } of onGrid) {
    const fit = descend(family, ratios, parameters, highest);
    if (best === null || fit.misfit < best.misfit) best = fit;
  }
  return best;
}

const grids = new Map<ShapeFamily, { parameters: readonly number[]; pattern: ShapePattern }[]>();

/** Patterns of the grid, made when first asked for. */
function gridOf(family: ShapeFamily) {
  const known = grids.get(family);
  if (known !== undefined) return known;
  const made = family.starts.map((parameters) => ({
    parameters,
    pattern: family.pattern(parameters, HIGHEST_ORDER),
  }));
  grids.set(family, made);
  return made;
}

function gridVariances(ratios: HarmonicRatios, highest: number): Float64Array {
  const largest = ratios.cosine.reduce((most, c, at) => Math.max(most, Math.hypot(c, ratios.sine[at]!)), 0);
  return ratios.sigma.slice(0, highest - 1).map((sigma) => sigma ** 2 + (GRID_SLACK * largest) ** 2);
}

function variancesOf(ratios: HarmonicRatios, pattern: ShapePattern, highest: number): Float64Array {
  return ratios.sigma.slice(0, highest - 1).map((sigma, at) => {
    const size = Math.hypot(pattern.cosine[at]!, pattern.sine[at]!);
    const room = PATH_TOLERANCE + (((at + 2) * ratios.frequencyHz) / BLIND_FROM_HZ) ** 3;
    return sigma ** 2 + (room * size) ** 2;
  });
}

function misfitOf(ratios: HarmonicRatios, pattern: ShapePattern, variances: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < variances.length; at++) {
    const cosine = ratios.cosine[at]! - pattern.cosine[at]!;
    const sine = ratios.sine[at]! - pattern.sine[at]!;
    sum += (cosine * cosine + sine * sine) / variances[at]!;
  }
  return sum;
}

function descend(
  family: ShapeFamily,
  ratios: HarmonicRatios,
  start: readonly number[],
  highest: number,
): FamilyFit {
  let parameters = start;
  let pattern = family.pattern(parameters, highest);
  let variances = variancesOf(ratios, pattern, highest);
  let damping = 1e-2;
  for (let step = 0; step < MOST_STEPS && damping < 1e6; step++) {
    const next = stepFrom(family, ratios, { parameters, pattern, variances, damping });
    const nextPattern = family.pattern(next, highest);
    if (!(misfitOf(ratios, nextPattern, variances) <= misfitOf(ratios, pattern, variances))) {
      damping *= 6;
      continue;
    }
    const moved = next.reduce((most, value, i) => Math.max(most, Math.abs(value - parameters[i]!)), 0);
    parameters = next;
    pattern = nextPattern;
    variances = variancesOf(ratios, pattern, highest);
    damping /= 6;
    if (moved < SETTLED) break;
  }
  return { family, parameters, pattern, misfit: misfitOf(ratios, pattern, variances) };
}

interface Here {
  parameters: readonly number[];
  pattern: ShapePattern;
  variances: Float64Array;
  damping: number;
}

function stepFrom(family: ShapeFamily, ratios: HarmonicRatios, here: Here): readonly number[] {
  const { parameters, pattern, variances, damping } = here;
  const slopes = parameters.map((value, i) => {
    const moved = parameters.with(i, value + family.step[i]!);
    return family.pattern(moved, variances.length + 1);
  });
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  const slope = (i: number, at: number, part: 'cosine' | 'sine') =>
    (slopes[i]![part][at]! - pattern[part][at]!) / family.step[i]!;
  for (let at = 0; at < variances.length; at++) {
    for (const part of ['cosine', 'sine'] as const) {
      const left = ratios[part][at]! - pattern[part][at]!;
      for (let row = 0; row < parameters.length; row++) {
        right[row]! += (slope(row, at, part) * left) / variances[at]!;
        for (let column = 0; column < parameters.length; column++) {
          normal[3 * row + column]! += (slope(row, at, part) * slope(column, at, part)) / variances[at]!;
        }
      }
    }
  }
  for (let row = 0; row < 3; row++) normal[4 * row]! *= 1 + damping;
  const move = solveThree(normal, right);
  return parameters.map((value, i) =>
    Math.min(family.most[i]!, Math.max(family.least[i]!, value + move[i]!)),
  );
}
