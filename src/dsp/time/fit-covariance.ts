import { REFLECTED_ENERGY, REFLECTED_SUM, REFLECTED_SUM_DEVIATION, reflectedShares } from './cabin-prior.ts';

/** How the sound came from the driver's amplifier to the recorder. */
export type SoundPath = 'cabin' | 'wire';

/** First two moments of what arrives when a direct sound of gain 1 arrives with the window's first sample. */
export interface ExpectedArrival {
  /** For each shift of the model. */
  means: readonly Float64Array[];
  /** Row after row, lower triangle. */
  covariance: Float64Array;
}

/** @param shifted the direct sound alone, at several shifts within a sample */
export function expectedArrival(
  shifted: readonly Float64Array[],
  size: number,
  rateHz: number,
  path: SoundPath,
): ExpectedArrival {
  const covariance = new Float64Array(size * size);
  if (path === 'wire') return { means: shifted.map((model) => model.slice(0, size)), covariance };
  const shares = reflectedShares(size, rateHz);
  const sums = shifted.map((model) => convolved(model, shares, size));
  const direct = shifted[0]!;
  for (let lag = 0; lag < size; lag += 1) {
    const energy = REFLECTED_ENERGY * shares[lag]!;
    for (let row = lag; row < size; row += 1) {
      const scaled = energy * direct[row - lag]!;
      for (let column = lag; column <= row; column += 1) {
        covariance[row * size + column]! += scaled * direct[column - lag]!;
      }
    }
  }
  for (let row = 0; row < size; row += 1) {
    const scaled = REFLECTED_SUM_DEVIATION ** 2 * sums[0]![row]!;
    for (let column = 0; column <= row; column += 1) {
      covariance[row * size + column]! += scaled * sums[0]![column]!;
    }
  }
  const means = shifted.map((model, shift) =>
    Float64Array.from({ length: size }, (_, at) => model[at]! + REFLECTED_SUM * sums[shift]![at]!),
  );
  return { means, covariance };
}

function convolved(model: Float64Array, shares: Float64Array, size: number): Float64Array {
  const sum = new Float64Array(size);
  for (let at = 0; at < size; at += 1) {
    for (let lag = 0; lag <= at; lag += 1) sum[at]! += shares[lag]! * model[at - lag]!;
  }
  return sum;
}
