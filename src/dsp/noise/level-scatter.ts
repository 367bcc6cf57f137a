import type { NoiseFloor } from './noise-floor.ts';

/**
 * Standard uncertainty of a noise's level by the length of its record alone, dB: the octaves' scatters, each by its
 * share of the power (JCGM 100 5.1.2; octaves of noise are independent). 0 for digital silence.
 */
export function levelScatterDb(
  octaves: readonly Pick<NoiseFloor['octaves'][number], 'levelDbfs' | 'uncertaintyDb'>[],
): number {
  let [power, variance] = [0, 0];
  for (const { levelDbfs, uncertaintyDb } of octaves) {
    if (levelDbfs === null) continue;
    const share = 10 ** (levelDbfs / 10);
    power += share;
    variance += (share * uncertaintyDb) ** 2;
  }
  return power > 0 ? Math.sqrt(variance) / power : 0;
}
