import { couplingTurn } from './coupling.ts';
import { cutHarmonic } from './crest-cut.ts';
import type { HarmonicRatios } from './harmonic-ratios.ts';
import type { LimiterShape } from './limiter-model.ts';
import { angleOfOverdrive } from './overdrive.ts';

/** Rails that a fit may move: the other stays out of reach. */
export type FittedRails = 'both' | 'positive' | 'negative';

const GRID_DB = [
  0, 0.004, 0.008, 0.016, 0.03, 0.06, 0.12, 0.25, 0.45, 0.75, 1.2, 1.8, 2.6, 3.6, 5, 7, 10, 14, 20, 30,
];
const GRID_ANGLES = GRID_DB.map(angleOfOverdrive);
const COUPLING_CORNERS_HZ = [0, 3, 8];

/** Higher orders swing too fast with overdrive for so coarse a grid. */
const HIGHEST_GRID_ORDER = 12;
const GRID_CUTS = GRID_ANGLES.map((angle) =>
  Float64Array.from({ length: HIGHEST_GRID_ORDER + 1 }, (_, order) =>
    order === 0 ? 0 : cutHarmonic(order, angle),
  ),
);

/** The ratios with a coupling's turn taken back, cosine part only: that is all a limiter makes. */
function straightened(ratios: HarmonicRatios, couplingRatio: number): Float64Array {
  return ratios.cosine.map((cosine, at) => {
    const turn = couplingTurn(at + 2, couplingRatio);
    return (cosine * Math.cos(turn.angle) - ratios.sine[at]! * Math.sin(turn.angle)) / turn.gain;
  });
}

/** Squared room that a point of a coarse grid must be given, beside the noise, so that the nearest one wins. */
function gridSlack(ratios: HarmonicRatios, lowestOrder: number): Float64Array {
  const sizes = ratios.cosine.map((cosine, at) => Math.hypot(cosine, ratios.sine[at]!));
  const largest = Math.max(0, ...sizes.subarray(lowestOrder - 2));
  return sizes.map((_, at) => ratios.sigma[at]! ** 2 + (0.01 * largest) ** 2);
}

/** Weighted misfit of two rails of the grid, orders `lowestOrder` up. */
function misfit(
  straight: Float64Array,
  slack: Float64Array,
  lowestOrder: number,
  high: Float64Array,
  low: Float64Array,
): number {
  const share = 1 - high[1]! - low[1]!;
  let sum = 0;
  for (let order = lowestOrder; order <= Math.min(slack.length + 1, HIGHEST_GRID_ORDER); order++) {
    const cut = order % 2 === 0 ? low[order]! - high[order]! : -low[order]! - high[order]!;
    const excess = straight[order - 2]! - cut / share;
    sum += (excess * excess) / slack[order - 2]!;
  }
  return sum;
}

/**
 * The best of a coarse grid of both overdrives, 0 to 30 dB, one for each corner of a coupling that can
 * matter at this frequency (none but 0 from 150 Hz up). THD alone would not do as a start: high orders
 * swing with overdrive and trap a descent that begins in the wrong swing.
 */
export function startingShapes(
  ratios: HarmonicRatios,
  lowestOrder: number,
  rails: FittedRails,
): LimiterShape[] {
  const slack = gridSlack(ratios, lowestOrder);
  const corners = ratios.frequencyHz < 150 ? COUPLING_CORNERS_HZ : [0];
  return corners.map((cornerHz) => {
    const couplingRatio = cornerHz / ratios.frequencyHz;
    const straight = straightened(ratios, couplingRatio);
    let least = Number.POSITIVE_INFINITY;
    let best: LimiterShape = { highCube: 0, lowCube: 0, couplingRatio };
    for (let high = 0; high < (rails === 'negative' ? 1 : GRID_CUTS.length); high++) {
      for (let low = 0; low < (rails === 'positive' ? 1 : GRID_CUTS.length); low++) {
        const sum = misfit(straight, slack, lowestOrder, GRID_CUTS[high]!, GRID_CUTS[low]!);
        if (!(sum < least)) continue;
        least = sum;
        best = { highCube: GRID_ANGLES[high]! ** 3, lowCube: GRID_ANGLES[low]! ** 3, couplingRatio };
      }
    }
    return best;
  });
}
