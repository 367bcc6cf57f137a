import { floorAt } from './distortion-floor.ts';
import type { MicrophoneDot } from './microphone-knee.ts';
import { cellsOf } from './trace-cells.ts';

export interface MicrophoneVerdict {
  verdict: 'clean' | 'clipped' | 'undecided';
  /** High-order content now against what the baseline leads one to expect; `null` without a baseline. */
  growth: number | null;
  evidence: string[];
}

/** The baseline is what was read this much and more below the present level. */
const BASELINE_GAP_DB = 0.5;
const BASELINE_REACH_DB = 12;
const BASELINE_CELLS = 4;
/**
 * A driver's 4th and 5th grow by 3 and 4 dB for each decibel: within half a decibel by a quarter. Three times is
 * a limit's, and so is what five scatters do not explain; up to half as much again is none.
 */
const CLIPPED_GROWTH = 3;
const CLEAN_GROWTH = 1.5;
const SCATTERS = 5;
/** Less high-order content than this is no matter, whatever it grew from: a limit 0.1 dB over makes 0.26 %. */
const LEAST_PERCENT = 0.1;

/**
 * Whether what a microphone hears now is clipped, by growth against a low-level baseline of the same room and
 * driver: both colour every reading alike, so what they do falls out. Only harmonics of order 4 and up count.
 *
 * @param history readings of this turn, in any order, at levels all the way
 */
export function microphoneVerdict(history: readonly MicrophoneDot[], now: MicrophoneDot): MicrophoneVerdict {
  const below = cellsOf(
    history
      .filter(
        ({ levelDbfs }) =>
          levelDbfs < now.levelDbfs - BASELINE_GAP_DB && levelDbfs > now.levelDbfs - BASELINE_REACH_DB,
      )
      .map((dot) => ({ levelDbfs: dot.levelDbfs, thdPercent: dot.highOrderPercent, verdict: 'undecided' })),
  );
  if (below.length < BASELINE_CELLS) {
    return { verdict: 'undecided', growth: null, evidence: [NO_BASELINE] };
  }
  const quietest = below.slice(0, Math.max(BASELINE_CELLS, Math.ceil(below.length / 2)));
  const floor = floorAt(now.levelDbfs, quietest);
  const growth = now.highOrderPercent / floor.thdPercent;
  const needed = Math.max(CLIPPED_GROWTH, Math.exp(SCATTERS * floor.scatter));
  const grown = `Harmonics from the 4th up make ${figure(now.highOrderPercent)} %, ${figure(growth)} times what lower levels lead one to expect`;
  if (growth >= needed && now.highOrderPercent >= LEAST_PERCENT) {
    return { verdict: 'clipped', growth, evidence: [`${grown}: a limit, not the driver.`] };
  }
  if (growth <= CLEAN_GROWTH || now.highOrderPercent < LEAST_PERCENT) {
    return { verdict: 'clean', growth, evidence: [`${grown}.`] };
  }
  return {
    verdict: 'undecided',
    growth,
    evidence: [`${grown}: too much for a driver alone, too little to be sure.`],
  };
}

const NO_BASELINE = 'No readings at lower levels to compare with: turn up from well below.';

const figure = (value: number) => Number(value.toPrecision(2)).toString();
