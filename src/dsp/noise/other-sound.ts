import type { ShortTimePower } from './short-time-power.ts';

/** What else is heard, by which a noise reading is spoilt. */
export interface OtherSound {
  /** `tone`: one steady tone outweighs everything. `programme`: a sound that comes and goes, as music and speech do. */
  kind: 'tone' | 'programme';
  evidence: string;
}

/** What an octave's level moves from one frame to the third after it, beyond what noise does. */
const EXTRA_SCATTER_DB = 2;

/** Frames overlap by half: the third after is the next that shares hardly anything. An engine's own rise takes longer. */
const FRAMES_APART = 3;

/** In so many octaves at once. */
const LEAST_OCTAVES = 3;

const LOWEST_OCTAVE_HZ = 125;

/**
 * Whether octave levels move about more than noise does.
 *
 * @param trackHz of a moving comb, whose bins are left out; `null` without one
 */
export function programmeHeard(
  spectra: ShortTimePower,
  trackHz: readonly number[] | null,
): OtherSound | null {
  let moving = 0;
  let most = 0;
  for (
    let lowHz = LOWEST_OCTAVE_HZ / Math.SQRT2;
    2 * lowHz <= 0.45 * 2 * spectra.bins * spectra.binHz;
    lowHz *= 2
  ) {
    const { scatterDb, expectedDb } = octaveScatter(spectra, lowHz, trackHz);
    if (scatterDb > expectedDb + EXTRA_SCATTER_DB) moving += 1;
    most = Math.max(most, scatterDb);
  }
  if (moving < LEAST_OCTAVES) return null;
  return {
    kind: 'programme',
    evidence: `The level moves about by ±${most.toFixed(1)} dB in ${moving} octaves: music, speech or handling is heard, and a comb that moves cannot be told from it.`,
  };
}

function octaveScatter(
  spectra: ShortTimePower,
  lowHz: number,
  trackHz: readonly number[] | null,
): { scatterDb: number; expectedDb: number } {
  const from = Math.max(1, Math.round(lowHz / spectra.binHz));
  const to = Math.min(spectra.bins - 1, Math.round((2 * lowHz) / spectra.binHz));
  const levels = new Float64Array(spectra.frames);
  for (let frame = 0; frame < spectra.frames; frame += 1) {
    let [sum, count] = [0, 0];
    for (let bin = from; bin < to; bin += 1) {
      if (trackHz !== null && nearHarmonic(bin, trackHz[frame]! / spectra.binHz)) continue;
      sum += spectra.power[frame * spectra.bins + bin]!;
      count += 1;
    }
    levels[frame] = 10 * Math.log10(Math.max(sum / Math.max(1, count), 1e-30));
  }
  const moves = levels.slice(FRAMES_APART).map((level, frame) => (level - levels[frame]!) / Math.SQRT2);
  moves.sort();
  const at = (part: number) => moves[Math.round(part * (moves.length - 1))] ?? 0;
  // A Hann frame's bins are worth half as many independent powers as there are bins.
  return { scatterDb: (at(0.84) - at(0.16)) / 2, expectedDb: 10 / Math.LN10 / Math.sqrt((to - from) / 2) };
}

/** A sweeping harmonic covers more bins the higher it is; every harmonic leaves a third of its spacing. */
function nearHarmonic(bin: number, spacingBins: number): boolean {
  const order = Math.round(bin / spacingBins);
  if (order < 1) return false;
  return Math.abs(bin - order * spacingBins) <= Math.min(3 + order, spacingBins / 3);
}
