/** Freezes the present reading as a record with its conditions, and keeps it. */
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Conditions } from '../../../job/document.ts';
import { gainResult } from '../../../procedure/gain/result.ts';
import { calibration } from '../../session/calibration.ts';
import { conditionsDraft } from '../../session/conditions.ts';
import { gainNow, newTurn } from '../../session/gain-session.ts';
import { inputIdentity } from '../../session/input-identity.ts';
import { acceptRecord } from '../../session/job-session.ts';
import { newId } from '../../session/new-id.ts';
import { rigControls } from '../../session/rig-session.ts';

function conditionsNow(onRig: boolean, byWire: boolean): Conditions {
  const input = inputIdentity(soundEngine.getState())?.label ?? null;
  const scale = { calibration: byWire ? calibration.get() : null, input, note: '' };
  if (!onRig) return { ...conditionsDraft.get(), ...scale };
  const { supplyVolts, loaded, volumeStep } = rigControls.get();
  return { supplyVolts: supplyVolts ?? null, engineRunning: null, loaded, volumeStep, ...scale };
}

/** @returns why nothing was recorded, or `null` once the record is on disk */
export async function acceptReading(jobId: string, onRig: boolean): Promise<string | null> {
  const state = gainNow();
  if (state === null) return 'There is no channel to accept a reading for.';
  if (!state.acceptance.can) return state.acceptance.why;
  const fault = await acceptRecord(jobId, {
    kind: 'gain',
    id: newId(),
    at: new Date().toISOString(),
    conditions: conditionsNow(onRig, state.task.way === 'wire'),
    result: gainResult(state),
  });
  if (fault === null) newTurn();
  return fault;
}
