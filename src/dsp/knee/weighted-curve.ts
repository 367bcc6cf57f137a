import { solveThree } from '../linear-systems/solve-three.ts';

/** Value of a smooth curve at 0, from scattered points. */
export interface ValueAtZero {
  value: number;
  /** Standard uncertainty from the scatter about the curve. */
  uncertainty: number;
  /** Slope there. */
  slope: number;
}

export interface CurvePoint {
  x: number;
  y: number;
  /** 1/variance, times how much the point matters here. */
  weight: number;
}

const PASSES = 4;
/** Residuals beyond this many of their own scatter lose weight (Huber 1964: 95 % efficient on normal ones). */
const HUBER = 1.345;

/**
 * Weighted least squares of a parabola (`order` 2), a line (1) or a mean (0), with wild points held down.
 *
 * @param points more than `order` of them
 */
export function valueAtZero(points: readonly CurvePoint[], order: 0 | 1 | 2): ValueAtZero {
  const robust = points.map(() => 1);
  let fit = weightedFit(points, robust, order);
  for (let pass = 1; pass < PASSES; pass++) {
    const scaled = points.map((p) => Math.abs(p.y - curve(fit, p.x)) * Math.sqrt(p.weight));
    const scatter = 1.4826 * middleOf(scaled);
    if (!(scatter > 0)) break;
    scaled.forEach((size, i) => {
      robust[i] = size <= HUBER * scatter ? 1 : (HUBER * scatter) / size;
    });
    fit = weightedFit(points, robust, order);
  }
  let squares = 0;
  let effective = 0;
  let heaviest = 0;
  points.forEach((p, i) => {
    squares += robust[i]! * p.weight * (p.y - curve(fit, p.x)) ** 2;
    effective += robust[i]! * p.weight;
    heaviest = Math.max(heaviest, p.weight);
  });
  // Points that hardly weigh give no freedom: they are counted by their weight against the heaviest.
  const freedom = Math.max(1, effective / heaviest - order - 1);
  const unit = squares / freedom;
  const variance = solveThree(fit.normal, Float64Array.of(1, 0, 0))[0]!;
  return {
    value: fit.terms[0]!,
    slope: fit.terms[1]!,
    uncertainty: Math.sqrt(Math.max(unit, 0) * variance),
  };
}

interface Fit {
  terms: Float64Array;
  normal: Float64Array;
}

const curve = ({ terms }: Fit, x: number) => terms[0]! + x * (terms[1]! + x * terms[2]!);

function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

function weightedFit(points: readonly CurvePoint[], robust: readonly number[], order: 0 | 1 | 2): Fit {
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  points.forEach(({ x, y, weight }, i) => {
    const w = weight * (robust[i] ?? 1);
    const powers = [1, order > 0 ? x : 0, order > 1 ? x * x : 0];
    for (let row = 0; row < 3; row++) {
      right[row]! += w * powers[row]! * y;
      for (let column = 0; column < 3; column++)
        normal[3 * row + column]! += w * powers[row]! * powers[column]!;
    }
  });
  return { terms: solveThree(normal, right), normal };
}
