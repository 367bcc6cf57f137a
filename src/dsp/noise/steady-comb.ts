import { type Comb, type CombLine, combOf } from './mains-comb.ts';
import type { SpectralLine } from './spectral-lines.ts';

/** Range of a ripple's fundamental, Hz: from a slow motor's to an alternator's at 4000 rpm of the engine. */
export const LOWEST_RIPPLE_HZ = 100;
export const HIGHEST_RIPPLE_HZ = 6000;

/** A line may be up to this multiple of a fundamental that does not show itself. */
const HIGHEST_SEED_ORDER = 4;

const HIGHEST_ORDER = 20;

/**
 * The strongest comb among steady lines that are not the mains': an engine held at one speed, a fan, or
 * a tone that is being played. Which of them, only a change of engine speed tells.
 *
 * @param lines the mains' taken out
 */
export function findSteadyComb(lines: readonly SpectralLine[], binHz: number): Comb | null {
  let best: { comb: Comb; weight: number } | null = null;
  for (const line of lines) {
    for (let order = 1; order <= HIGHEST_SEED_ORDER; order += 1) {
      const fundamentalHz = line.frequencyHz / order;
      if (fundamentalHz < LOWEST_RIPPLE_HZ || fundamentalHz > HIGHEST_RIPPLE_HZ) continue;
      const held = lines.flatMap((other): CombLine[] => {
        const multiple = Math.round(other.frequencyHz / fundamentalHz);
        const fits =
          Math.abs(other.frequencyHz - multiple * fundamentalHz) <=
          binHz * (0.5 + Math.min(1, (0.25 * multiple) / order)) + other.wanderHz / 2;
        return fits && multiple >= 1 && multiple <= HIGHEST_ORDER ? [{ ...other, order: multiple }] : [];
      });
      // A fundamental that is not there itself must be made good by more lines than another guess has.
      const weight = held.reduce(
        (sum, { order: n, overFloorDb }) => sum + Math.max(0, overFloorDb + 20) / n,
        0,
      );
      if (held.length > 0 && (best === null || weight > best.weight)) {
        best = { comb: combOf(fundamentalHz, held), weight };
      }
    }
  }
  return best?.comb ?? null;
}
