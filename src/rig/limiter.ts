/**
 * A stage's ceiling: straight, then a bend (a quadratic that joins both sides
 * without a step in slope), then flat.
 *
 * @param softness the bend's half width as a share of the ceiling; 0 is the sharp corner of an ideal limiter
 */
export function limited(input: number, ceiling: number, softness: number): number {
  const size = Math.abs(input);
  const bendStarts = ceiling * (1 - softness);
  if (size <= bendStarts) return input;
  const sign = input < 0 ? -1 : 1;
  if (size >= ceiling * (1 + softness)) return sign * ceiling;
  const past = size - bendStarts;
  return sign * (size - (past * past) / (4 * ceiling * softness));
}
