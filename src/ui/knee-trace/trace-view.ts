/** What the knee trace shows, worked out without a canvas: dots, lines, axes and the sentence under it. */

import { fixed, signed, significant } from '../../job/format/number.ts';
import { percent, volts } from '../../job/format/quantity.ts';
import type { GainState, TracePoint } from '../../procedure/gain/gain.ts';

export interface Dot {
  x: number;
  y: number;
}

export interface TraceView {
  /** `V` with calibration, `dBFS` without. */
  unit: 'V' | 'dBFS';
  thisTurn: Dot[];
  earlierTurns: Dot[];
  latest: Dot | null;
  /** Where the reading should end up; `null` without calibration. */
  target: number | null;
  knee: number | null;
  lowest: number;
  highest: number;
}

/** The distortion axis is fixed, so that the picture never jumps: from a good input's floor to a square wave. */
export const LOWEST_PERCENT = 0.0002;
export const HIGHEST_PERCENT = 50;

function place(point: TracePoint, unit: TraceView['unit']): Dot | null {
  const x = unit === 'V' ? point.volts : point.levelDbfs;
  if (x === null) return null;
  return { x, y: Math.min(HIGHEST_PERCENT, Math.max(LOWEST_PERCENT, point.thdPercent)) };
}

function latestDot(state: GainState, unit: TraceView['unit']): Dot | null {
  const reading = state.latest;
  if (reading === null || reading.thdPercent === null) return null;
  const x = unit === 'V' ? reading.volts : reading.levelDbfs;
  return x === null
    ? null
    : { x, y: Math.min(HIGHEST_PERCENT, Math.max(LOWEST_PERCENT, reading.thdPercent)) };
}

/** Rounds outwards to a grid, so that the axis moves in steps. */
function range(values: number[], unit: TraceView['unit']): { lowest: number; highest: number } {
  const least = Math.min(...values);
  const most = Math.max(...values);
  if (unit === 'dBFS')
    return { lowest: Math.floor(least / 5) * 5 - 5, highest: Math.min(5, Math.ceil(most / 5) * 5 + 5) };
  const grid = 10 ** Math.floor(Math.log10(most)) / 2;
  return {
    lowest: Math.max(0, Math.floor((least * 0.92) / grid) * grid),
    highest: Math.ceil((most * 1.06) / grid) * grid,
  };
}

export function traceView(state: GainState): TraceView {
  const unit = state.task.way === 'wire' && state.trace.some((point) => point.volts !== null) ? 'V' : 'dBFS';
  const thisTurn: Dot[] = [];
  const earlierTurns: Dot[] = [];
  for (const point of state.trace) {
    const dot = place(point, unit);
    if (dot !== null) (point.turn === state.turn ? thisTurn : earlierTurns).push(dot);
  }
  const latest = latestDot(state, unit);
  const target = unit === 'V' ? state.task.aimVolts : null;
  const knee = state.knee === null ? null : unit === 'V' ? state.knee.volts : state.knee.levelDbfs;
  const values = [...thisTurn, ...earlierTurns].map((dot) => dot.x);
  for (const extra of [latest?.x, target, knee]) if (extra != null) values.push(extra);
  if (values.length === 0) values.push(unit === 'V' ? state.task.aimVolts : -12);
  return { unit, thisTurn, earlierTurns, latest, target, knee, ...range(values, unit) };
}

/** What the picture says, for people who do not see it, and as its caption. */
export function traceWords(state: GainState): string {
  if (state.trace.length === 0) return 'No dots yet: they appear as the control is turned.';
  const floor = Math.min(...state.trace.map((point) => point.thdPercent));
  const begin = `Distortion from ${percent(floor)} up.`;
  const knee = state.knee;
  if (knee === null) return `${begin} No knee found yet.`;
  if (knee.volts === null) return `${begin} Knee at ${fixed(knee.levelDbfs, 1)} dBFS.`;
  // Of the full target: at a reduced tone the aim is a tenth of it, the knee is not.
  const room = 20 * Math.log10(knee.volts / state.task.targetVolts);
  const where = room >= 0 ? 'above' : 'below';
  const unsure = `± ${significant(2 * knee.uncertaintyDb, 2)} dB`;
  return `${begin} Knee at ${volts(knee.volts)} ${unsure}, ${signed(Math.abs(room), 1).replace('+', '')} dB ${where} the target.`;
}
