/** The supply and ground part outside React: each amplifier keeps what was typed for it while the page lives. */
import type { Job } from '../../job/document.ts';
import { JobRefused } from '../../job/refused.ts';
import { supplyTask } from '../../job/supply-task.ts';
import { SUPPLY_POINTS, type SupplyState } from '../../procedure/supply/supply.ts';
import { SUPPLY } from '../../procedure/supply/supply-steps.ts';
import { StationSession } from './station-session.ts';

export const supplySession = new StationSession('supply', SUPPLY);

const latest = new Map<string, SupplyState>();
supplySession.subscribe(() => {
  const state = supplySession.state();
  if (state !== null) latest.set(state.task.amplifierId, state);
});

/** What was typed for another task of the same amplifier holds for this one: the wires do not change a meter's reading. */
function typeAgain(before: SupplyState): void {
  supplySession.hand({ type: 'meter', meter: before.meter });
  for (const point of SUPPLY_POINTS) {
    const pair = before.volts[point];
    if (pair !== null) supplySession.hand({ type: 'volts', point, pair });
  }
  if (before.current !== null) supplySession.hand({ type: 'current', current: before.current });
}

/** @returns the sentence why this amplifier cannot be judged, or `null` */
export function openSupply(job: Job, amplifierId: string): string | null {
  try {
    const task = supplyTask(job, amplifierId);
    const before = latest.get(amplifierId);
    supplySession.open(task);
    const isNew = supplySession.course()?.entries.length === 1;
    if (isNew && before !== undefined) typeAgain(before);
    return null;
  } catch (fault) {
    if (!(fault instanceof JobRefused || fault instanceof RangeError)) throw fault;
    supplySession.close();
    return fault.message;
  }
}

export function beginSupplyAnew(job: Job, amplifierId: string): void {
  supplySession.restart(supplyTask(job, amplifierId));
}
