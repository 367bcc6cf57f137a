import type { ShapeFamily, ShapePattern } from './shape-family.ts';

/** Midpoints of a quarter period: the wave repeats itself with both signs changed. */
const POINTS = 128;
const COSINES = Float64Array.from({ length: POINTS }, (_, at) =>
  Math.cos(((at + 0.5) * Math.PI) / (2 * POINTS)),
);

/**
 * A ceiling that bends in: `x/(1 + |x|^p)^(1/p)` of `x = a*cos(theta)`, from a bend wider than the hyperbolic
 * tangent's (`p` = 1.5) to nearly a corner (`p` = 40). Cosine terms of odd order only, by the midpoint rule.
 */
function softPattern([driveDb, lnSharpness]: readonly number[], highestOrder: number): ShapePattern {
  const drive = 10 ** (driveDb! / 20);
  const sharpness = Math.exp(lnSharpness!);
  const terms = new Float64Array(highestOrder + 1);
  for (let at = 0; at < POINTS; at++) {
    const cosine = COSINES[at]!;
    const input = drive * cosine;
    const output = input / (1 + input ** sharpness) ** (1 / sharpness);
    let [before, now] = [1, cosine];
    for (let order = 1; order <= highestOrder; order++) {
      if (order % 2 === 1) terms[order]! += output * now;
      [before, now] = [now, 2 * cosine * now - before];
    }
  }
  const fundamental = terms[1]!;
  return {
    cosine: terms.subarray(2).map((term) => term / fundamental),
    sine: new Float64Array(highestOrder - 1),
    share: (2 * fundamental) / (POINTS * drive),
  };
}

const DRIVES_DB = [-9, -6, -4, -3, -2, -1, 0, 1, 2, 3, 4, 6, 8, 10, 13];
const SHARPNESSES = [1.5, 2, 3, 4, 6, 9, 14, 22, 34].map(Math.log);

export const SOFT: ShapeFamily = {
  shape: 'soft',
  starts: DRIVES_DB.flatMap((drive) => SHARPNESSES.map((sharpness) => [drive, sharpness])),
  least: [-14, Math.log(1.2)],
  most: [20, Math.log(40)],
  step: [0.01, 0.005],
  pattern: softPattern,
  overdriveDb: () => null,
};
