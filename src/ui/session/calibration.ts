/** What one full scale is worth on the input at hand, found again by device and channel. */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { CalibrationStamp } from '../../job/document.ts';
import type { CalibrationMatch, StoredCalibration } from '../../job/store/job-store.ts';
import { observable } from '../live/observable.ts';
import { inputChannel } from './input-channel.ts';
import { inputIdentity } from './input-identity.ts';
import { jobSession } from './job-session.ts';
import { newId } from './new-id.ts';
import { RIG_CALIBRATION } from './rig-scale.ts';

export const calibration = observable<CalibrationStamp | null>(null);
/** How surely it belongs to this device. */
export const calibrationMatch = observable<CalibrationMatch>('device');

function stampOf(stored: StoredCalibration): CalibrationStamp {
  const { id, voltsPerFs, uncertaintyDb, deviceLabel, at, basis } = stored;
  return { id, voltsPerFs, uncertaintyDb, deviceLabel, at, basis };
}

function findAgain(): void {
  const state = soundEngine.getState();
  const device = inputIdentity(state);
  if (device === null) return;
  if (state.source?.kind === 'rig') {
    calibration.set(RIG_CALIBRATION);
    return;
  }
  const found = jobSession.get().store?.calibrationFor(device, inputChannel.get()) ?? null;
  // The same stamp stays the same object, so that nothing starts anew for nothing.
  if (found !== null && found.known.id === calibration.get()?.id) return;
  calibration.set(found === null ? null : stampOf(found.known));
  if (found !== null) calibrationMatch.set(found.match);
}

soundEngine.subscribe(findAgain);
inputChannel.subscribe(findAgain);
jobSession.subscribe(findAgain);

export interface NewScale {
  voltsPerFs: number;
  uncertaintyDb: number;
  basis: 'multimeter' | 'divider' | 'assumed';
}

/** Keeps a calibration of the input at hand; earlier ones stay beside it. @returns why not, or `null` */
export async function keepCalibration(scale: NewScale): Promise<string | null> {
  const device = inputIdentity(soundEngine.getState());
  const { store } = jobSession.get();
  if (device === null) return 'Press Listen first: a calibration belongs to the input that is open.';
  if (store === null) return 'Nothing can be stored in this browser, so the calibration was not kept.';
  try {
    await store.addCalibration({
      ...scale,
      id: newId(),
      at: new Date().toISOString(),
      deviceLabel: device.label || 'Unnamed input',
      device,
      inputChannel: inputChannel.get(),
    });
    findAgain();
    return null;
  } catch (fault) {
    return `The calibration was not kept: ${fault instanceof Error ? fault.message : String(fault)}`;
  }
}
