/**
 * How closely a harmonic is expected to follow the model, beside its noise.
 *
 * `strict` is for what a wire and a good converter deliver: 0.05 % everywhere. `edge` is the same with
 * nothing expected past the anti-alias filter (`edgeHz`), `cut` with nothing expected from 16 kHz up, where
 * lossy coding ends. `loose` is for the rest of practice: 0.2 %,
 * growing with the cube of frequency to the whole at 16 kHz. A first-order droop with its corner at
 * 20 kHz (1 % at 3 kHz, 7 % at 8 kHz) stays within about one and a half of it.
 */
export type Trust = 'strict' | 'edge' | 'cut' | 'loose';

/** From here up nothing is relied on unless it is there. */
export const BLIND_FROM_HZ = 16_000;

/** The audio band's end (AES17), and the share of the sample rate that every converter's filter passes. */
const BAND_END_HZ = 20_000;
const PASSED_SHARE = 0.42;

/** Past this frequency a recording may hold nothing though the wave did: the harmonics there are unmeasured. */
export function edgeHz(sampleRateHz: number): number {
  return Math.min(BAND_END_HZ, PASSED_SHARE * sampleRateHz);
}

const EXACT = 0.0005;
/** So much room that a harmonic has no say. */
const NO_SAY = 1000;

/** Relative room of a harmonic in this frequency; the edge is that of `edgeHz`. */
function tolerance(harmonicHz: number, trust: Trust, edge: number): number {
  if (trust === 'loose') return 0.002 + (harmonicHz / BLIND_FROM_HZ) ** 3;
  return harmonicHz < blindFromHz(trust, edge) ? EXACT : NO_SAY;
}

/** Where this trust ends; the whole band for `strict`. */
export function blindFromHz(trust: Trust, edge: number): number {
  if (trust === 'strict') return Number.POSITIVE_INFINITY;
  return trust === 'edge' ? edge : BLIND_FROM_HZ;
}

/** Variance of one cosine or sine ratio about the model. */
export function ratioVariance(
  sigma: number,
  predictedSize: number,
  harmonicHz: number,
  trust: Trust,
  edge = BAND_END_HZ,
): number {
  return sigma * sigma + (tolerance(harmonicHz, trust, edge) * predictedSize) ** 2;
}

/** How far a coupling's corner is believed to lie, Hz: one standard deviation about 0. */
export const COUPLING_CORNER_HZ = 5;
