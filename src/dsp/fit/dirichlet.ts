/**
 * Sums of a rotating phasor over `count` frames about their own centre,
 * `u = -(count-1)/2 ... (count-1)/2`: closed forms for what one line of a spectrum leaks into another.
 */

/** Below this the closed forms lose more digits than the first terms of their series drop. */
const NEAR_ZERO = 1e-5;

/** `sum of exp(j theta u)`, real because the frames lie evenly about zero. */
export function dirichlet(count: number, theta: number): number {
  const half = Math.sin(theta / 2);
  if (Math.abs(half) * count < NEAR_ZERO) return count * Math.cos((count - 1) * wholeTurns(theta) * Math.PI);
  return Math.sin((count * theta) / 2) / half;
}

/** First derivative of `dirichlet` by `theta`: `sum of u exp(j theta u)` is `-j` times this. */
export function dirichletSlope(count: number, theta: number): number {
  const half = Math.sin(theta / 2);
  if (Math.abs(half) * count < NEAR_ZERO) {
    const offset = theta - 2 * Math.PI * wholeTurns(theta);
    return (
      -((count * (count * count - 1)) / 12) * offset * Math.cos((count - 1) * wholeTurns(theta) * Math.PI)
    );
  }
  const cosineHalf = Math.cos(theta / 2);
  const angle = (count * theta) / 2;
  return (count * Math.cos(angle) * half - Math.sin(angle) * cosineHalf) / (2 * half * half);
}

/** Below this many radians over the stretch the curvature's closed form cancels; two terms of its series are then exact to 1e-9. */
const FLAT = 1e-2;

/** Second derivative of `dirichlet` by `theta`: `sum of u^2 exp(j theta u)` is minus this. */
export function dirichletCurvature(count: number, theta: number): number {
  const half = Math.sin(theta / 2);
  if (Math.abs(half) * count < FLAT) {
    const offset = theta - 2 * Math.PI * wholeTurns(theta);
    const squares = (count * (count * count - 1)) / 12;
    const fourths = (squares * (3 * count * count - 7)) / 20;
    return ((fourths * offset * offset) / 2 - squares) * Math.cos((count - 1) * wholeTurns(theta) * Math.PI);
  }
  const cosineHalf = Math.cos(theta / 2);
  const sine = Math.sin((count * theta) / 2);
  const cosine = Math.cos((count * theta) / 2);
  const within = (sine * (1 - count * count)) / (4 * half);
  return within + (cosineHalf * ((sine * cosineHalf) / half - count * cosine)) / (2 * half * half);
}

function wholeTurns(theta: number): number {
  return Math.round(theta / (2 * Math.PI));
}
