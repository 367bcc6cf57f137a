import { positive } from '../refused.ts';
import { ratioToDb } from '../units/ratio.ts';
import { runOhms, type WireRun } from '../wire/wire-run.ts';

/** What the wires between amplifier and drivers cost. */
export interface SpeakerRunCost {
  /** Out and back. */
  wireOhms: number;
  /** Level lost at the drivers, dB: 20 lg((R + R_wire) / R), a divider. */
  lossDb: number;
  /** Share of the power that heats the wire. */
  lostShare: number;
  /**
   * Most damping factor that can be had at the drivers, load against wire,
   * whatever the amplifier's own is (defined as in IEC 60268-3, from memory).
   */
  dampingFactorMost: number;
  /** What is to be said of it; empty where the run costs little. */
  warnings: string[];
}

/** Level differences under this pass unheard, and partners' runs differ by less (common practice). */
const NOTABLE_LOSS_DB = 0.5;

/**
 * @param loadOhms nominal load as wired
 * @throws PlanRefused for a load, length or area that is not above 0.
 */
export function speakerRunCost(run: WireRun, loadOhms: number): SpeakerRunCost {
  const load = positive(loadOhms, 'The load, in ohms,');
  const wireOhms = 2 * runOhms(run);
  const lossDb = ratioToDb((load + wireOhms) / load);
  const warnings =
    lossDb < NOTABLE_LOSS_DB
      ? []
      : [
          `The run loses ${lossDb.toFixed(1)} dB and holds the damping factor under ${Math.floor(load / wireOhms)}: take a thicker wire or a shorter way.`,
        ];
  return {
    wireOhms,
    lossDb,
    lostShare: wireOhms / (load + wireOhms),
    dampingFactorMost: load / wireOhms,
    warnings,
  };
}
