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
const LEAST_ROWS = 8;
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

/** Weighted straight line `phase = offset + slope * f`, as points come in. */
class PhaseLine {
  #w = 0;
  #wx = 0;
  #wxx = 0;
  #wy = 0;
  #wxy = 0;

  add({ frequencyHz, phase, weight }: PhaseRow): void {
    this.#w += weight;
    this.#wx += weight * frequencyHz;
    this.#wxx += weight * frequencyHz * frequencyHz;
    this.#wy += weight * phase;
    this.#wxy += weight * frequencyHz * phase;
  }

  /** `null` while one frequency alone is known. */
  line(): { offset: number; slope: number } | null {
    const determinant = this.#w * this.#wxx - this.#wx * this.#wx;
    if (!(determinant > 1e-9 * this.#w * this.#wxx)) return null;
    return {
      offset: (this.#wxx * this.#wy - this.#wx * this.#wxy) / determinant,
      slope: (this.#w * this.#wxy - this.#wx * this.#wy) / determinant,
    };
  }

  /** Slope of the line that begins at `offset` at 0 Hz. */
  slopeFrom(offset: number): number {
    return (this.#wxy - offset * this.#wx) / this.#wxx;
  }
}

/** Rows that the line is drawn through before it foretells the next one's turn. */
const ROWS_TO_FORETELL = 4;

/**
 * The filters' phase off, unwrapped from below. Points lie close there and far apart above, where a subwoofer's delay
 * turns the phase by more than half a turn from one to the next: so each turn is the one that the line through all
 * before foretells.
 */
function phaseLine(
  transfer: Transfer,
  filters: readonly Filter[],
  band: FrequencyBand,
): { line: PhaseLine; count: number } {
  const line = new PhaseLine();
  let count = 0;
  let before = 0;
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
    const drawn = count < ROWS_TO_FORETELL ? null : line.line();
    const foretold = drawn === null ? before : drawn.offset + drawn.slope * frequencyHz;
    if (count > 0) phase += 2 * Math.PI * Math.round((foretold - phase) / (2 * Math.PI));
    before = phase;
    count += 1;
    line.add({ frequencyHz, phase, weight: Math.min(MOST_SNR, 10 ** (snrDb / 10)) });
  });
  return { line, count };
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
  const { line, count } = phaseLine(transfer, filters, band);
  const free = line.line();
  if (count < LEAST_ROWS || free === null) return null;
  const halfTurns = Math.round(free.offset / Math.PI);
  if (Math.abs(free.offset - halfTurns * Math.PI) > FURTHEST_FROM_HALF_TURN) return null;
  return {
    delaySeconds: -line.slopeFrom(halfTurns * Math.PI) / (2 * Math.PI),
    inverted: Math.abs(halfTurns) % 2 === 1,
  };
}
