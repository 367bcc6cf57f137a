import type { PowerDensity } from '../noise/power-density.ts';
import { median } from '../statistics/median.ts';
import type { InputFinding } from './judgement.ts';

/** No microphone or line input loses so much of its noise within half an octave by nature. */
const CLIFF_DB = 15;

/** A full-band input's own filter begins here, as a share of the sample rate. */
const FULL_BAND = 0.465;

/** Below this a cut is a telephone's or a headset's band; above, a lower sample rate's or a coder's. */
const NARROW_HZ = 15_000;

/** Levels to both sides of a cliff are medians over a quarter of an octave, a guard of an eighth between. */
const GUARD = 2 ** (1 / 8);
const SIDE = 2 ** (1 / 4);

const LOWEST_HZ = 2000;

/** Median density between two frequencies, dB; NaN where too few bins lie there. */
type Between = (fromHz: number, toHz: number) => number;

/**
 * Where the noise of a spectrum is cut off, Hz: the place of the steepest fall by 15 dB or more behind which
 * it does not come back. `null` where there is none.
 */
export function cutOff({ values, binHz }: PowerDensity): number | null {
  const last = values.length - 2;
  const between = (fromHz: number, toHz: number): number => {
    const from = Math.round(fromHz / binHz);
    const to = Math.min(last, Math.round(toHz / binHz));
    return to - from < 8 ? Number.NaN : 10 * Math.log10(Math.max(median(values.slice(from, to)), 1e-30));
  };
  let best: { hz: number; fall: number } | null = null;
  for (let hz = LOWEST_HZ; hz * GUARD < (last - 8) * binHz; hz *= 2 ** (1 / 48)) {
    const below = between(hz / GUARD / SIDE, hz / GUARD);
    const above = between(hz * GUARD, hz * GUARD * SIDE);
    const rest = between(hz * GUARD, last * binHz);
    const fall = below - Math.max(above, rest);
    if (fall >= CLIFF_DB && (best === null || fall > best.fall)) best = { hz, fall };
  }
  return best === null ? null : edge(best.hz, between, binHz);
}

/** The first frequency where the level has fallen by half the cliff from what is before it. */
function edge(hz: number, between: Between, binHz: number): number {
  const width = Math.max(0.01 * hz, 9 * binHz);
  const bar = between(hz / GUARD / SIDE, hz / GUARD) - CLIFF_DB / 2;
  let at = hz / GUARD / SIDE;
  while (between(at, at + width) > bar) at += width / 4;
  return at + width / 2;
}

export function cutOffFinding(cutOffHz: number | null, sampleRateHz: number): InputFinding | null {
  if (cutOffHz === null || cutOffHz > FULL_BAND * sampleRateHz) return null;
  const kilohertz = (cutOffHz / 1000).toFixed(1);
  if (cutOffHz < NARROW_HZ) {
    return {
      fault: 'band-limit',
      evidence: `Nothing above ${kilohertz} kHz comes through: the input is narrow-band, as headsets and calls are.`,
    };
  }
  return {
    fault: 'resampled',
    evidence: `The noise ends at ${kilohertz} kHz, below the ${(sampleRateHz / 2000).toFixed(1)} kHz that this sample rate holds: the sound came through a lower rate, or a coder.`,
  };
}
