/** What is left of a response's phase once its filters are known: a delay, and which way round it is. */
import { type Filter, filterResponse } from '../filters/filter-response.ts';
import type { FrequencyBand } from './channel-response.ts';
import type { Transfer } from './transfer.ts';

export interface PureDelay {
  /** Beyond the moment that the phases are counted from; may be negative. */
  delaySeconds: number;
  /** True where the response is upside down. */
  inverted: boolean;
}

/** Points below this do not tell their phase from the next turn. */
const LEAST_SNR_DB = 12;
/** Above this a point's phase is known better than its filter. */
const MOST_SNR = 1e4;
/** A chain of filters begins at 0 or 180 degrees; further than this from both, something else is in it. */
const FURTHEST_FROM_HALF_TURN = Math.PI / 4;

interface PhaseRow {
  frequencyHz: number;
  /** Unwrapped, radians. */
  phase: number;
  weight: number;
}

function rowsOf(transfer: Transfer, filters: readonly Filter[], band: FrequencyBand): PhaseRow[] {
  const rows: PhaseRow[] = [];
  transfer.frequenciesHz.forEach((frequencyHz, index) => {
    const degrees = transfer.phasesDeg[index];
    const snrDb = transfer.snrDb[index];
    const inside = frequencyHz >= band.lowHz && frequencyHz <= band.highHz;
    if (!inside || degrees == null || snrDb == null || snrDb < LEAST_SNR_DB) return;
    let phase = (degrees * Math.PI) / 180;
    for (const filter of filters) {
      const value = filterResponse(filter, frequencyHz);
      phase -= Math.atan2(value.im, value.re);
    }
    const before = rows.at(-1)?.phase ?? 0;
    if (rows.length > 0) phase += 2 * Math.PI * Math.round((before - phase) / (2 * Math.PI));
    rows.push({ frequencyHz, phase, weight: Math.min(MOST_SNR, 10 ** (snrDb / 10)) });
  });
  return rows;
}

/** Weighted straight line `phase = offset + slope * f`. */
function lineThrough(rows: readonly PhaseRow[]): { offset: number; slope: number } | null {
  let w = 0;
  let wx = 0;
  let wxx = 0;
  let wy = 0;
  let wxy = 0;
  for (const { frequencyHz, phase, weight } of rows) {
    w += weight;
    wx += weight * frequencyHz;
    wxx += weight * frequencyHz * frequencyHz;
    wy += weight * phase;
    wxy += weight * frequencyHz * phase;
  }
  const determinant = w * wxx - wx * wx;
  if (!(determinant > 0)) return null;
  return { offset: (wxx * wy - wx * wxy) / determinant, slope: (w * wxy - wx * wy) / determinant };
}

/** Slope of a line through `offset` at 0 Hz. */
function slopeFrom(rows: readonly PhaseRow[], offset: number): number {
  let wxx = 0;
  let wxy = 0;
  for (const { frequencyHz, phase, weight } of rows) {
    wxx += weight * frequencyHz * frequencyHz;
    wxy += weight * frequencyHz * (phase - offset);
  }
  return wxy / wxx;
}

/**
 * Least squares over the points of a band, each octave counting alike as the grid has it.
 *
 * @param filters all that the response is made of
 * @returns `null` where too few points stand out, or where the phase does not begin at 0 or 180 degrees
 */
export function pureDelay(
  transfer: Transfer,
  filters: readonly Filter[],
  band: FrequencyBand,
): PureDelay | null {
  const rows = rowsOf(transfer, filters, band);
  if (rows.length < 4) return null;
  const line = lineThrough(rows);
  if (line === null) return null;
  const halfTurns = Math.round(line.offset / Math.PI);
  if (Math.abs(line.offset - halfTurns * Math.PI) > FURTHEST_FROM_HALF_TURN) return null;
  return {
    delaySeconds: -slopeFrom(rows, halfTurns * Math.PI) / (2 * Math.PI),
    inverted: Math.abs(halfTurns) % 2 === 1,
  };
}
