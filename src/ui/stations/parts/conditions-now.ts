import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Conditions } from '../../../job/document.ts';
import { calibration } from '../../session/calibration.ts';
import { conditionsDraft } from '../../session/conditions.ts';
import { inputIdentity } from '../../session/input-identity.ts';
import { rigControls } from '../../session/rig-session.ts';
import { isOnRig } from '../../signal/signal.ts';

/**
 * Under which conditions a reading is accepted now: the rig's own, or what the user noted.
 *
 * @param inVolts whether the reading stands on the input's calibration
 */
export function conditionsNow(inVolts: boolean): Conditions {
  const input = inputIdentity(soundEngine.getState())?.label ?? null;
  const scale = { calibration: inVolts ? calibration.get() : null, input, note: '' };
  if (!isOnRig()) return { ...conditionsDraft.get(), ...scale };
  const { supplyVolts, loaded, volumeStep, engine } = rigControls.get();
  const engineRunning = engine === undefined ? null : engine !== 'off';
  return { supplyVolts: supplyVolts ?? null, engineRunning, loaded, volumeStep, ...scale };
}
