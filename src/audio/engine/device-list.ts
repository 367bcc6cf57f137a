/** Inputs and outputs as the browser lists them. */
import type { InputDevice } from './engine-state.ts';

export interface DeviceList {
  devices: InputDevice[];
  outputs: InputDevice[];
}

/** Empty lists before permission (the browser then withholds names) and where there is no audio at all. */
export async function listDevices(): Promise<DeviceList> {
  const listed = (await navigator.mediaDevices?.enumerateDevices?.()) ?? [];
  return { devices: ofKind(listed, 'audioinput'), outputs: ofKind(listed, 'audiooutput') };
}

function ofKind(listed: readonly MediaDeviceInfo[], kind: MediaDeviceKind): InputDevice[] {
  return listed
    .filter((device) => device.kind === kind && device.deviceId !== '')
    .map(({ deviceId, label, groupId }) => ({ deviceId, label, groupId }));
}
