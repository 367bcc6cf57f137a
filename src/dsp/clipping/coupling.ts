/**
 * What alternating-current coupling behind a limiter does to its harmonics.
 *
 * One high-pass pole at `ratio` times the fundamental (3 Hz behind a 30 Hz tone: 0.1) advances order n
 * by `atan(ratio/n)`. Referred to the fundamental's own phase that turns order n by
 * `atan(ratio/n) - n*atan(ratio)`, about `-(n - 1/n)*ratio`: flat tops tilt, and the high harmonics of a
 * low tone no longer stand as cosines. A pure delay turns nothing here, a pole far above the band little.
 */
export interface Turn {
  gain: number;
  /** rad, positive for an advance. */
  angle: number;
  /** Slopes of `ln(gain)` and of `angle` against the ratio. */
  gainSlope: number;
  angleSlope: number;
}

/** Gain and turn of harmonic `order` against the fundamental behind one high-pass pole. */
export function couplingTurn(order: number, ratio: number): Turn {
  const first = Math.atan(ratio);
  const own = Math.atan(ratio / order);
  return {
    gain: Math.cos(own) / Math.cos(first),
    angle: own - order * first,
    gainSlope: ratio / (1 + ratio ** 2) - ratio / (order ** 2 + ratio ** 2),
    angleSlope: order / (order ** 2 + ratio ** 2) - order / (1 + ratio ** 2),
  };
}
