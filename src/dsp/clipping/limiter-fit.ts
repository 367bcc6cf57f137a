import { solveThree } from '../linear-systems/solve-three.ts';
import {
  BLIND_FROM_HZ,
  blindFromHz,
  COUPLING_CORNER_HZ,
  edgeHz,
  ratioVariance,
  type Trust,
} from './fit-weights.ts';
import type { HarmonicRatios } from './harmonic-ratios.ts';
import { type LimiterShape, type ShapeTerms, shapeTerms } from './limiter-model.ts';
import { type FittedRails, startingShapes } from './limiter-start.ts';
import { angleOfOverdrive } from './overdrive.ts';

export interface LimiterFit {
  shape: LimiterShape;
  terms: ShapeTerms;
  /** Weighted sum of squares left over, coupling's own included. */
  misfit: number;
  trust: Trust;
}

/** Left-over squares per term up to which the wave is taken for an ideal limiter's on a good path. */
const MOST_STRICT_MISFIT = 3;

const MOST_CUBE = angleOfOverdrive(40) ** 3;
const MOST_STEPS = 30;

/**
 * Weighted least squares of the two-rail limiter to the harmonics from `lowestOrder` up, by
 * Levenberg-Marquardt from the best point of a coarse grid. The fundamental is taken as it stands: the
 * harmonics are fitted as ratios to it. Strict trust first, so that an ideal limiter comes out exact; where
 * that leaves too much over, the next looser one. Rails that are not fitted stay out of reach (angle 0).
 */
export function fitLimiter(ratios: HarmonicRatios, lowestOrder: number, rails: FittedRails): LimiterFit {
  const starts = startingShapes(ratios, lowestOrder, rails);
  let nearest = { start: starts[0]!, misfit: Number.POSITIVE_INFINITY };
  let before = Number.POSITIVE_INFINITY;
  for (const trust of ['strict', 'edge', 'cut'] as const) {
    const relied = reliedOrder(ratios, trust);
    // Without an order less it is the same fit again; without two orders there is nothing to be exact about.
    if (relied === before || (trust === 'edge' && relied <= lowestOrder)) continue;
    before = relied;
    const terms = 2 * (relied - lowestOrder + 1);
    for (const start of starts) {
      const fit = descend(ratios, lowestOrder, rails, start, trust);
      if (fit.misfit <= MOST_STRICT_MISFIT * terms) return fit;
      if (fit.misfit < nearest.misfit) nearest = { start, misfit: fit.misfit };
    }
  }
  return descend(ratios, lowestOrder, rails, nearest.start, 'loose');
}

/** Highest harmonic below the frequency from which nothing is relied on. */
export function reliableOrder(ratios: HarmonicRatios): number {
  return Math.ceil(BLIND_FROM_HZ / ratios.frequencyHz) - 1;
}

/** Highest order held that this trust reaches to. */
export function reliedOrder(ratios: HarmonicRatios, trust: Trust): number {
  const blindFrom = blindFromHz(trust, edgeHz(ratios.sampleRateHz));
  return Math.min(ratios.highestOrder, Math.ceil(blindFrom / ratios.frequencyHz) - 1);
}

function descend(
  ratios: HarmonicRatios,
  lowestOrder: number,
  rails: FittedRails,
  start: LimiterShape,
  trust: Trust,
): LimiterFit {
  const freed = [rails !== 'negative', rails !== 'positive', true];
  let shape = start;
  let terms = shapeTerms(shape, ratios.highestOrder);
  let variances = variancesOf(ratios, terms, trust);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS && damping < 1e7; step++) {
    const before = misfitOf(ratios, lowestOrder, shape, terms, variances);
    const next = stepFrom(ratios, lowestOrder, shape, terms, variances, freed, damping);
    const nextTerms = shapeTerms(next, ratios.highestOrder);
    const after = misfitOf(ratios, lowestOrder, next, nextTerms, variances);
    if (!(after <= before)) {
      damping *= 8;
      continue;
    }
    const moved = distance(shape, next);
    shape = next;
    terms = nextTerms;
    variances = variancesOf(ratios, terms, trust);
    damping = Math.max(damping / 6, 1e-12);
    if (moved < 1e-10) break;
  }
  return { shape, terms, trust, misfit: misfitOf(ratios, lowestOrder, shape, terms, variances) };
}

function variancesOf(ratios: HarmonicRatios, terms: ShapeTerms, trust: Trust): Float64Array {
  return ratios.sigma.map((sigma, at) =>
    ratioVariance(
      sigma,
      Math.hypot(terms.cosine[at]!, terms.sine[at]!),
      (at + 2) * ratios.frequencyHz,
      trust,
      edgeHz(ratios.sampleRateHz),
    ),
  );
}

function misfitOf(
  ratios: HarmonicRatios,
  lowestOrder: number,
  shape: LimiterShape,
  terms: ShapeTerms,
  variances: Float64Array,
): number {
  let sum = (shape.couplingRatio * (ratios.frequencyHz / COUPLING_CORNER_HZ)) ** 2;
  for (let at = lowestOrder - 2; at < variances.length; at++) {
    const cosine = ratios.cosine[at]! - terms.cosine[at]!;
    const sine = ratios.sine[at]! - terms.sine[at]!;
    sum += (cosine * cosine + sine * sine) / variances[at]!;
  }
  return sum;
}

/** How far two shapes are apart, relative to their own size. */
function distance(from: LimiterShape, to: LimiterShape): number {
  const size = Math.max(from.highCube, from.lowCube, 1e-9);
  return Math.max(
    Math.abs(to.highCube - from.highCube) / size,
    Math.abs(to.lowCube - from.lowCube) / size,
    Math.abs(to.couplingRatio - from.couplingRatio),
  );
}

/** One damped Gauss-Newton step, kept inside 0 to 40 dB of overdrive. */
function stepFrom(
  ratios: HarmonicRatios,
  lowestOrder: number,
  shape: LimiterShape,
  terms: ShapeTerms,
  variances: Float64Array,
  freed: boolean[],
  damping: number,
): LimiterShape {
  const { normal, pull } = normalEquations(ratios, lowestOrder, shape, terms, variances);
  for (let row = 0; row < 3; row++) {
    normal[row * 4]! *= 1 + damping;
    if (freed[row]) continue;
    for (let column = 0; column < 3; column++) normal[row * 3 + column] = normal[column * 3 + row] = 0;
    normal[row * 4] = 1;
    pull[row] = 0;
  }
  const move = solveThree(normal, pull);
  const held = (cube: number) => Math.min(MOST_CUBE, Math.max(0, cube));
  return {
    highCube: held(shape.highCube + move[0]!),
    lowCube: held(shape.lowCube + move[1]!),
    couplingRatio: Math.min(1, Math.max(-1, shape.couplingRatio + move[2]!)),
  };
}

function normalEquations(
  ratios: HarmonicRatios,
  lowestOrder: number,
  shape: LimiterShape,
  terms: ShapeTerms,
  variances: Float64Array,
): { normal: Float64Array; pull: Float64Array } {
  const stiffness = (ratios.frequencyHz / COUPLING_CORNER_HZ) ** 2;
  const normal = new Float64Array(9);
  const pull = Float64Array.of(0, 0, -stiffness * shape.couplingRatio);
  normal[8] = stiffness;
  const gather = (slopes: [number, number, number], left: number, variance: number) => {
    for (let row = 0; row < 3; row++) {
      pull[row]! += (slopes[row]! * left) / variance;
      for (let column = 0; column < 3; column++) {
        normal[row * 3 + column]! += (slopes[row]! * slopes[column]!) / variance;
      }
    }
  };
  for (let at = lowestOrder - 2; at < variances.length; at++) {
    const high = terms.highSlope[at]!;
    const low = terms.lowSlope[at]!;
    const { turnCosine, turnSine } = terms;
    const cosineLeft = ratios.cosine[at]! - terms.cosine[at]!;
    const sineLeft = ratios.sine[at]! - terms.sine[at]!;
    gather(
      [high * turnCosine[at]!, low * turnCosine[at]!, terms.cosineTurn[at]!],
      cosineLeft,
      variances[at]!,
    );
    gather([high * turnSine[at]!, low * turnSine[at]!, terms.sineTurn[at]!], sineLeft, variances[at]!);
  }
  return { normal, pull };
}
