/**
 * How closely a harmonic is expected to follow the model, beside its noise.
 *
 * `strict` is for what a wire and a good converter deliver: 0.05 % everywhere. `cut` is the same with
 * nothing expected from 16 kHz up, where lossy coding ends. `loose` is for the rest of practice: 0.2 %,
 * growing with the cube of frequency to the whole at 16 kHz. A first-order droop with its corner at
 * 20 kHz (1 % at 3 kHz, 7 % at 8 kHz) stays within about one and a half of it.
 */
export type Trust = 'strict' | 'cut' | 'loose';

/** From here up nothing is relied on unless it is there. */
export const BLIND_FROM_HZ = 16_000;

const TOLERANCE: Record<Trust, (harmonicHz: number) => number> = {
  strict: () => 0.0005,
  cut: (harmonicHz) => (harmonicHz < BLIND_FROM_HZ ? 0.0005 : 1000),
  loose: (harmonicHz) => 0.002 + (harmonicHz / BLIND_FROM_HZ) ** 3,
};

/** Variance of one cosine or sine ratio about the model. */
export function ratioVariance(
  sigma: number,
  predictedSize: number,
  harmonicHz: number,
  trust: Trust,
): number {
  return sigma * sigma + (TOLERANCE[trust](harmonicHz) * predictedSize) ** 2;
}

/** How far a coupling's corner is believed to lie, Hz: one standard deviation about 0. */
export const COUPLING_CORNER_HZ = 5;
