/**
 * What a ceiling takes off one crest of a unit cosine: `cut(theta) = max(0, cos(theta) - cos(angle))`,
 * where `angle` (0 to pi/2 rad) is half the stretch of a period that lies on the ceiling.
 *
 * Its Fourier series, integrated by parts and written as a difference of two nearly equal terms:
 *   cut = mean + sum over n >= 1 of harmonic(n)*cos(n*theta)
 *   harmonic(n) = (1/(pi*n)) * [ sin((n-1)*angle)/(n-1) - sin((n+1)*angle)/(n+1) ]
 * (for n = 1 the first term is `angle`). These are E_n/A of references item 3.3; the describing-function
 * literature gives n = 1. Every form below keeps full relative accuracy as the angle goes to 0, where
 * harmonic(n) goes to 2*angle^3/(3*pi) for all n alike: just past the ceiling the harmonics are flat.
 */

const SERIES_TERMS = 14;

/** Cosine term of order `order` >= 1. NaN in, NaN out. */
export function cutHarmonic(order: number, angle: number): number {
  const upper = (order + 1) * angle;
  if (upper < 1.5) return harmonicBySeries(order, angle);
  const lowerTerm = order === 1 ? angle : Math.sin((order - 1) * angle) / (order - 1);
  return (lowerTerm - Math.sin(upper) / (order + 1)) / (Math.PI * order);
}

/** The two sines' series, subtracted term by term so that nothing cancels. */
function harmonicBySeries(order: number, angle: number): number {
  const above = ((order + 1) * angle) ** 2;
  const below = ((order - 1) * angle) ** 2;
  const first = 4 * order * angle * angle;
  let difference = first;
  let belowPower = 1;
  let factorial = 6;
  let sum = 0;
  for (let k = 1; k <= SERIES_TERMS; k++) {
    sum += (k % 2 === 1 ? difference : -difference) / factorial;
    belowPower *= below;
    difference = above * difference + belowPower * first;
    factorial *= (2 * k + 2) * (2 * k + 3);
  }
  return (angle * sum) / (Math.PI * order);
}

/** Mean of the cut over one period: `(sin(angle) - angle*cos(angle))/pi`. */
export function cutMean(angle: number): number {
  if (angle > 0.7) return (Math.sin(angle) - angle * Math.cos(angle)) / Math.PI;
  let sum = 0;
  let power = angle;
  for (let k = 1; k <= SERIES_TERMS; k++) {
    power *= (-angle * angle) / (2 * k * (2 * k + 1));
    sum -= power * 2 * k;
  }
  return sum / Math.PI;
}

/** Mean square of the cut: `[angle*(1/2 + cos^2(angle)) - (3/2)*sin(angle)*cos(angle)]/pi`. */
export function cutMeanSquare(angle: number): number {
  const x = 2 * angle;
  if (x > 1.4) return (x / 2 + (x / 4) * Math.cos(x) - 0.75 * Math.sin(x)) / Math.PI;
  let sum = 0;
  let power = x;
  for (let k = 1; k <= SERIES_TERMS; k++) {
    power *= (-x * x) / (2 * k * (2 * k + 1));
    sum += (power * (2 * k - 2)) / 4;
  }
  return sum / Math.PI;
}

/**
 * Slope of `cutHarmonic` against `angle^3`: `2/(3*pi) * sinc(angle) * sinc(order*angle)`, with
 * `sinc(x) = sin(x)/x`. The cube is the natural measure of a small cut, since every harmonic starts in
 * proportion to it; against the angle itself the slope would vanish at 0 and stall a fit there.
 */
export function cutHarmonicSlope(order: number, angle: number): number {
  return (2 / (3 * Math.PI)) * sinc(angle) * sinc(order * angle);
}

function sinc(x: number): number {
  return Math.abs(x) < 1e-4 ? 1 - (x * x) / 6 : Math.sin(x) / x;
}
