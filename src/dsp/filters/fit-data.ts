import type { FitData } from './band-fit.ts';
import { roughnessDb } from './roughness.ts';

/** Systematic deviation that any chain may have, dB: ripple of converters, of lossy coding. */
const SYSTEMATIC_DB = 0.03;

/** Levels with the weight that noise, roughness and the chain's own ripple leave them. */
export function fitDataOf(
  frequenciesHz: Float64Array,
  levelsDb: Float64Array,
  sigmasDb: Float64Array,
): FitData {
  const roughness = roughnessDb(levelsDb);
  const weights = sigmasDb.map((sigma, i) => 1 / (Math.max(sigma, roughness[i]!) ** 2 + SYSTEMATIC_DB ** 2));
  return { frequenciesHz, levelsDb, weights };
}
