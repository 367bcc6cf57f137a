/** Integrals from 0 to `angle` of sin^2 and sin^3. */
const area2 = (angle: number) => 0.5 * angle - 0.25 * Math.sin(2 * angle);
const area3 = (angle: number) => 2 / 3 - Math.cos(angle) + Math.cos(angle) ** 3 / 3;

/** Angle at which a sine of this peak reaches `level`; a right angle if it never does. */
const reaches = (level: number, peak: number) => (level >= peak ? Math.PI / 2 : Math.asin(level / peak));

export interface LimitedSineRequest {
  /** Peak of the sine that goes in. */
  peak: number;
  ceiling: number;
  /** See `limited`. */
  softness: number;
  /** A sharp limit behind the soft one; infinite if there is none. */
  clamp: number;
}

/**
 * Peak of the fundamental that a sine leaves behind a soft limiter and a sharp
 * one after it: (4/pi) times the integral of y(peak sin t) sin t over a quarter
 * period, piece by piece (straight, bend, flat). With `softness` 0 it is the
 * textbook b1 = (2/pi)(A asin(1/A) + sqrt(1 - 1/A^2)) of a saturation (Gelb and
 * Vander Velde, "Multiple-Input Describing Functions", 1968).
 */
export function limitedFundamental(request: LimitedSineRequest): number {
  const { peak, ceiling, softness, clamp } = request;
  if (peak === 0) return 0;
  const top = Math.min(ceiling, clamp);
  const bendStarts = Math.min(ceiling * (1 - softness), clamp);
  const straightEnds = reaches(bendStarts, peak);
  const flatStarts = reaches(inputFor(top, ceiling, softness), peak);
  const straight = peak * area2(straightEnds);
  const flat = top * Math.cos(flatStarts);
  return (4 / Math.PI) * (straight + bendArea(request, straightEnds, flatStarts) + flat);
}

/** Input at which the soft limiter first puts out `level`, `level` at most the ceiling. */
function inputFor(level: number, ceiling: number, softness: number): number {
  const bendStarts = ceiling * (1 - softness);
  if (level <= bendStarts) return level;
  // level = start + u - u^2 / (4 c s), solved for the smaller u.
  const width = 2 * ceiling * softness;
  return bendStarts + width * (1 - Math.sqrt(Math.max(0, 1 - (2 * (level - bendStarts)) / width)));
}

function bendArea(request: LimitedSineRequest, from: number, to: number): number {
  const { peak, ceiling, softness } = request;
  if (softness === 0 || to <= from) return 0;
  const bendStarts = ceiling * (1 - softness);
  const curve = 1 / (4 * ceiling * softness);
  // y = x - curve (x - start)^2 with x = peak sin t, times sin t.
  const squares = peak + 2 * curve * bendStarts * peak;
  const cubes = -curve * peak * peak;
  const constant = -curve * bendStarts * bendStarts;
  return (
    squares * (area2(to) - area2(from)) +
    cubes * (area3(to) - area3(from)) +
    constant * (Math.cos(from) - Math.cos(to))
  );
}
