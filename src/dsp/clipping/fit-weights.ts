/**
 * How closely a harmonic is expected to follow the model, beside its noise.
 *
 * `strict` is for what a wire and a good converter deliver: 0.05 % everywhere. `loose` is for what lies
 * between in practice: 0.2 %, growing with the cube of frequency to the whole at 16 kHz, where lossy
 * coding, anti-alias filters and drivers leave nothing to rely on. A first-order droop with its corner at
 * 20 kHz (1 % at 3 kHz, 7 % at 8 kHz) stays within about one and a half of it.
 */
export type Trust = 'strict' | 'loose';

const BLIND_FROM_HZ = 16_000;

/** Variance of one cosine or sine ratio about the model. */
export function ratioVariance(
  sigma: number,
  predictedSize: number,
  harmonicHz: number,
  trust: Trust,
): number {
  const tolerance = trust === 'strict' ? 0.0005 : 0.002 + (harmonicHz / BLIND_FROM_HZ) ** 3;
  return sigma * sigma + (tolerance * predictedSize) ** 2;
}

/** How far a coupling's corner is believed to lie, Hz: one standard deviation about 0. */
export const COUPLING_CORNER_HZ = 5;
