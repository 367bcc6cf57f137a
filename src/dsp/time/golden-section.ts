const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Shrinks the bracket below 1e-9 of its width. */
const STEPS = 44;

/**
 * Place of the highest value of a smooth `valueAt` between two places, by golden section (J. Kiefer, Proc. AMS 4(3)
 * 1953). Where there are several maxima, one of them; at the edge, the edge.
 */
export function highestPlace(valueAt: (place: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  let left = high - GOLDEN * (high - low);
  let right = low + GOLDEN * (high - low);
  let leftValue = valueAt(left);
  let rightValue = valueAt(right);
  for (let step = 0; step < STEPS; step += 1) {
    if (leftValue >= rightValue) {
      high = right;
      right = left;
      rightValue = leftValue;
      left = high - GOLDEN * (high - low);
      leftValue = valueAt(left);
    } else {
      low = left;
      left = right;
      leftValue = rightValue;
      right = low + GOLDEN * (high - low);
      rightValue = valueAt(right);
    }
  }
  return (low + high) / 2;
}
