import { couplingTurn } from './coupling.ts';
import { cutHarmonic, cutHarmonicSlope } from './crest-cut.ts';

/**
 * The limiter as the fit turns it: cubes of the two cut angles, since every harmonic starts in proportion
 * to them, and the corner of the coupling behind it, against the fundamental.
 */
export interface LimiterShape {
  highCube: number;
  lowCube: number;
  couplingRatio: number;
}

/** Harmonic ratios that a shape predicts, index 0 the 2nd, with slopes against both cubes. */
export interface ShapeTerms {
  cosine: Float64Array;
  sine: Float64Array;
  /** Slope of the un-turned (cosine) ratio against each cube. */
  highSlope: Float64Array;
  lowSlope: Float64Array;
  turnCosine: Float64Array;
  turnSine: Float64Array;
  /** Slopes of the turned ratios against the coupling's corner. */
  cosineTurn: Float64Array;
  sineTurn: Float64Array;
}

/** Share of the underlying sine that is left in the fundamental. */
export function fundamentalShare(shape: LimiterShape): number {
  return 1 - cutHarmonic(1, Math.cbrt(shape.highCube)) - cutHarmonic(1, Math.cbrt(shape.lowCube));
}

/** Ratio of order `order` to the fundamental before coupling turns it; `share` from `fundamentalShare`. */
function shapeRatio(order: number, shape: LimiterShape, share: number): number {
  const high = cutHarmonic(order, Math.cbrt(shape.highCube));
  const low = cutHarmonic(order, Math.cbrt(shape.lowCube));
  return (order % 2 === 0 ? low - high : -low - high) / share;
}

/** All orders from the 2nd to `highestOrder`. */
export function shapeTerms(shape: LimiterShape, highestOrder: number): ShapeTerms {
  const count = highestOrder - 1;
  const terms: ShapeTerms = {
    cosine: new Float64Array(count),
    sine: new Float64Array(count),
    highSlope: new Float64Array(count),
    lowSlope: new Float64Array(count),
    turnCosine: new Float64Array(count),
    turnSine: new Float64Array(count),
    cosineTurn: new Float64Array(count),
    sineTurn: new Float64Array(count),
  };
  const highAngle = Math.cbrt(shape.highCube);
  const lowAngle = Math.cbrt(shape.lowCube);
  const share = fundamentalShare(shape);
  const firstHigh = cutHarmonicSlope(1, highAngle) / share;
  const firstLow = cutHarmonicSlope(1, lowAngle) / share;
  for (let order = 2; order <= highestOrder; order++) {
    const at = order - 2;
    const ratio = shapeRatio(order, shape, share);
    const lowSign = order % 2 === 0 ? 1 : -1;
    terms.highSlope[at] = -cutHarmonicSlope(order, highAngle) / share + ratio * firstHigh;
    terms.lowSlope[at] = (lowSign * cutHarmonicSlope(order, lowAngle)) / share + ratio * firstLow;
    const turn = couplingTurn(order, shape.couplingRatio);
    // C*cos + S*sin advanced by an angle: the cosine term becomes gain*cos(angle), the sine term the rest.
    terms.turnCosine[at] = turn.gain * Math.cos(turn.angle);
    terms.turnSine[at] = -turn.gain * Math.sin(turn.angle);
    terms.cosine[at] = ratio * terms.turnCosine[at]!;
    terms.sine[at] = ratio * terms.turnSine[at]!;
    terms.cosineTurn[at] = terms.cosine[at]! * turn.gainSlope + terms.sine[at]! * turn.angleSlope;
    terms.sineTurn[at] = terms.sine[at]! * turn.gainSlope - terms.cosine[at]! * turn.angleSlope;
  }
  return terms;
}
