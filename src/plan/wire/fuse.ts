import { wireCapacityAmperes } from './capacity.ts';
import type { WireMaterial } from './material.ts';

/**
 * Ratings that automotive fuses are made in, amperes: blade fuses to 30 A
 * (ISO 8820-3), strip fuses from 30 to 500 A (ISO 8820-5). The range is the
 * standard's, the single ratings are from memory.
 */
export const FUSE_RATINGS_AMPS: readonly number[] = [
  5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
];

/**
 * How far from the battery the fuse may stand, metres: common practice of the
 * trade (18 inches). No road-vehicle standard gives a distance; the marine one
 * is stricter, 0.175 m for bare runs (ABYC E-11).
 */
export const FUSE_MOST_METRES = 0.45;

/** Largest rating that still protects the wire; `null` where even the smallest does not. */
export function largestFuseAmps(areaMm2: number, material: WireMaterial): number | null {
  const capacity = wireCapacityAmperes(areaMm2, material);
  return FUSE_RATINGS_AMPS.findLast((amps) => amps <= capacity) ?? null;
}

/** Smallest rating that carries the load; `null` above the largest made. */
export function smallestFuseAmps(loadAmperes: number): number | null {
  return FUSE_RATINGS_AMPS.find((amps) => amps >= loadAmperes) ?? null;
}
