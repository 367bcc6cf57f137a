import { cutHarmonicSlope } from '../clipping/crest-cut.ts';
import { COUPLING_CORNER_HZ, edgeHz, ratioVariance } from '../clipping/fit-weights.ts';
import { harmonicRatios } from '../clipping/harmonic-ratios.ts';
import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { fundamentalShare, type LimiterShape, shapeTerms } from '../clipping/limiter-model.ts';
import { angleOfOverdrive } from '../clipping/overdrive.ts';
import { factor, inverse } from '../linear-systems/cholesky.ts';
import type { Clipping } from '../reading.ts';

const DB_PER_NEPER = 20 / Math.LN10;

/**
 * Standard uncertainties (k = 1) of overdrive and knee of a hard limit, from the information that the
 * harmonics hold about it: their noise, and the 0.05 % to which a good path is trusted to pass them
 * (a type B part, JCGM 100 4.3; from some 60 dB of signal against noise on it decides). Two rails are
 * taken as alike. A limit that is not hard, a path that bends harmonics and a driver's own distortion are
 * not in it: they are the verdict's business.
 *
 * @param levelDb standard uncertainty of the fundamental's level
 * @param sigmaFactor by how much the harmonics' `sigma` must grow (`NoiseDensity.besideUncertaintyFactor`); it
 *   counts twice, since the fit weighs by those uncertain sigmas as well
 * @returns `null` where there is no overdrive to be unsure of, or no harmonic to read it by
 */
export function limiterUncertainty(
  view: HarmonicView,
  clipping: Clipping,
  levelDb: number,
  sigmaFactor: number,
): { overdriveDb: number; kneeDb: number } | null {
  const { overdriveDb, kneeDbfs, side } = clipping;
  const ratios = harmonicRatios(view);
  if (overdriveDb === null || kneeDbfs === null || side === null || ratios === null) return null;
  const angle = angleOfOverdrive(overdriveDb);
  if (!(angle > 0) || ratios.highestOrder < 2) return null;
  const rails = side === 'both' ? 2 : 1;
  // A lower rail alone is the upper one half a period later: the same information.
  const shape = { highCube: angle ** 3, lowCube: rails === 2 ? angle ** 3 : 0, couplingRatio: 0 };
  const edge = edgeHz(view.sampleRateHz);
  const terms = shapeTerms(shape, ratios.highestOrder);
  const size = rails + 1;
  const information = new Float64Array(size * size);
  information[size * size - 1] = (view.frequencyHz / COUPLING_CORNER_HZ) ** 2;
  for (let at = 0; at < ratios.sigma.length; at += 1) {
    const predicted = Math.hypot(terms.cosine[at]!, terms.sine[at]!);
    const hz = (at + 2) * ratios.frequencyHz;
    const variance = ratioVariance(sigmaFactor ** 2 * ratios.sigma[at]!, predicted, hz, 'edge', edge);
    const high = terms.highSlope[at]!;
    const low = terms.lowSlope[at]!;
    const ofCosine = slopes(
      rails,
      high * terms.turnCosine[at]!,
      low * terms.turnCosine[at]!,
      terms.cosineTurn[at]!,
    );
    const ofSine = slopes(rails, high * terms.turnSine[at]!, low * terms.turnSine[at]!, terms.sineTurn[at]!);
    for (let row = 0; row < size; row += 1) {
      for (let column = 0; column < size; column += 1) {
        information[row * size + column]! +=
          (ofCosine[row]! * ofCosine[column]! + ofSine[row]! * ofSine[column]!) / variance;
      }
    }
  }
  if (!factor(information, size)) return null;
  const covariance = inverse(information, size);
  const { overdrive, knee } = sensitivities(shape, angle, rails);
  return {
    overdriveDb: propagated(overdrive, covariance),
    kneeDb: Math.hypot(levelDb, propagated(knee, covariance)),
  };
}

function slopes(rails: number, high: number, low: number, turn: number): number[] {
  return rails === 2 ? [high, low, turn] : [high, turn];
}

/** Decibels of overdrive and of knee (against the fundamental) for each cube of an angle, coupling last. */
function sensitivities(
  shape: LimiterShape,
  angle: number,
  rails: number,
): { overdrive: number[]; knee: number[] } {
  const ofCeiling = (DB_PER_NEPER * Math.tan(angle)) / (3 * angle * angle);
  const ofShare = (DB_PER_NEPER * cutHarmonicSlope(1, angle)) / fundamentalShare(shape);
  return {
    overdrive: rails === 2 ? [ofCeiling, 0, 0] : [ofCeiling, 0],
    knee: rails === 2 ? [ofShare - ofCeiling, ofShare, 0] : [ofShare - ofCeiling, 0],
  };
}

function propagated(sensitivity: number[], covariance: Float64Array): number {
  const size = sensitivity.length;
  let variance = 0;
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      variance += sensitivity[row]! * sensitivity[column]! * covariance[row * size + column]!;
    }
  }
  return Math.sqrt(Math.max(0, variance));
}
