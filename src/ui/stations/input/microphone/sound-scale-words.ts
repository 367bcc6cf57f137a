import { decimalsFor, fixed } from '../../../../job/format/number.ts';
import { COVERAGE } from '../../../../job/format/quantity.ts';

/** "121.3 dB SPL ± 0.5 dB", at k = 2. */
export function soundScaleWords(splAtFullScaleDb: number, uncertaintyDb: number): string {
  const expanded = COVERAGE * uncertaintyDb;
  const decimals = Math.min(2, decimalsFor(expanded));
  return `${fixed(splAtFullScaleDb, decimals)} dB SPL ±${fixed(expanded, decimals)} dB`;
}
