/** Weights of the fourth difference, and the sum of their squares: what it makes of independent deviations. */
const DIFFERENCE: readonly number[] = [1, -4, 6, -4, 1];
const DIFFERENCE_POWER = 70;
/** Differences on either side that one reading averages: some two thirds of an octave in all. */
const REACH = 8;

/**
 * Standard deviation of the levels from a smooth curve, from the levels themselves: a filter's response has no
 * fourth difference to speak of, and what lossy coding adds differs from point to point. It is no noise that a pause
 * would show, since it is there only while there is sound.
 *
 * @param levelsDb at steps of a fraction of an octave
 */
export function roughnessDb(levelsDb: Float64Array): Float64Array {
  const count = levelsDb.length;
  const squares = new Float64Array(count).fill(Number.NaN);
  for (let i = 2; i < count - 2; i += 1) {
    let difference = 0;
    for (let k = 0; k < 5; k += 1) difference += DIFFERENCE[k]! * levelsDb[i + k - 2]!;
    squares[i] = (difference * difference) / DIFFERENCE_POWER;
  }
  return levelsDb.map((_, i) => {
    let sum = 0;
    let read = 0;
    for (let k = Math.max(2, i - REACH); k <= Math.min(count - 3, i + REACH); k += 1) {
      sum += squares[k]!;
      read += 1;
    }
    return read === 0 ? 0 : Math.sqrt(sum / read);
  });
}
