import type { ShapeFamily, ShapePattern } from './shape-family.ts';

const POINTS = 512;
const COSINES = Float64Array.from({ length: POINTS }, (_, at) => Math.cos((2 * Math.PI * at) / POINTS));
/** A quarter of a period on, which makes of a cosine a sine. */
const QUARTER = (3 * POINTS) / 4;

/** The output only slews from 20*lg(1/0.537) = 5.4 dB on; a little before that nothing tells it from a triangle. */
const TRIANGLE_FROM_DB = 5.1;

/**
 * A unit cosine behind a limit on slope, `overdriveDb` past it: the output follows where it can and moves at the
 * limit until it has caught up. The steep parts become straight lines that lag behind, so harmonics (odd ones
 * only) carry sine terms, and the 3rd sharpens crests instead of flattening them. A limit reached in proportion
 * to frequency times level (Allen 1977; Jung, Stephens and Todd 1979, on slewing induced distortion).
 */
function slewPattern([lnOverdriveDb]: readonly number[], highestOrder: number): ShapePattern {
  const mostStep = (10 ** (-Math.exp(lnOverdriveDb!) / 20) * 2 * Math.PI) / POINTS;
  const cosine = new Float64Array(highestOrder + 1);
  const sine = new Float64Array(highestOrder + 1);
  let output = 1;
  // One period to settle in; of the next one half tells all, since the other is its negative.
  for (let at = 0; at < 1.5 * POINTS; at++) {
    output += Math.min(mostStep, Math.max(-mostStep, COSINES[at % POINTS]! - output));
    if (at < POINTS) continue;
    for (let order = 1; order <= highestOrder; order += 2) {
      cosine[order]! += (4 * output * COSINES[(order * at) % POINTS]!) / POINTS;
      sine[order]! += (4 * output * COSINES[(order * at + QUARTER) % POINTS]!) / POINTS;
    }
  }
  return ownPhase(cosine, sine);
}

/** Turned so that the fundamental is a cosine, and divided by it. */
function ownPhase(cosine: Float64Array, sine: Float64Array): ShapePattern {
  const share = Math.hypot(cosine[1]!, sine[1]!);
  const lag = Math.atan2(sine[1]!, cosine[1]!);
  const turned = (order: number) => {
    const [along, across] = [Math.cos(order * lag) / share, Math.sin(order * lag) / share];
    return [
      cosine[order]! * along + sine[order]! * across,
      sine[order]! * along - cosine[order]! * across,
    ] as const;
  };
  const orders = Array.from({ length: cosine.length - 2 }, (_, at) => turned(at + 2));
  return {
    cosine: Float64Array.from(orders, ([term]) => term),
    sine: Float64Array.from(orders, ([, term]) => term),
    share,
  };
}

const OVERDRIVES_DB = [0.03, 0.06, 0.1, 0.2, 0.35, 0.6, 1, 1.5, 2, 2.6, 3.2, 3.8, 4.4, 4.9, 5.3];

export const SLEW: ShapeFamily = {
  shape: 'slew',
  starts: OVERDRIVES_DB.map((overdriveDb) => [Math.log(overdriveDb)]),
  least: [Math.log(0.01)],
  most: [Math.log(TRIANGLE_FROM_DB + 0.2)],
  step: [0.01],
  pattern: slewPattern,
  overdriveDb: ([lnOverdriveDb]) => {
    const overdriveDb = Math.exp(lnOverdriveDb!);
    return overdriveDb < TRIANGLE_FROM_DB ? overdriveDb : null;
  },
};
