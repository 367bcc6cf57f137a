/** What the big figure of the Gain station shows, and how sure it is. */

import { COVERAGE, plusMinusVolts } from '../../../job/format/quantity.ts';
import type { GainState } from '../../../procedure/gain/gain.ts';

/** The volts that the aim stands on: the input's, or typed ones carried on by the level since. */
export function shownVolts(state: GainState | null): number | null {
  if (state === null) return null;
  if (state.task.way === 'wire') return state.latest?.volts ?? null;
  if (state.aim.errorDb === null) return state.meterVolts;
  return state.aim.aimVolts * 10 ** (state.aim.errorDb / 20);
}

export function shownPlusMinus(state: GainState | null): string {
  if (state === null) return '';
  if (state.task.way === 'meter') {
    if (state.meterVolts === null) return 'no volts typed yet';
    const shown = shownVolts(state);
    const moved = shown !== null && Math.abs(shown - state.meterVolts) > state.meterVolts * 1e-6;
    return moved ? 'typed, then followed by level' : 'typed from a multimeter';
  }
  const words = plusMinusVolts(state.latest?.voltsUncertainty ?? null);
  return words === '' ? '' : `${words} (k = ${COVERAGE})`;
}
