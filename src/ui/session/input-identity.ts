/** What a calibration is kept under: the device at hand, as far as the browser tells it. */
import type { EngineState } from '../../audio/engine/engine-state.ts';
import type { DeviceIdentity } from '../../job/store/job-store.ts';

export const RIG_LABEL = 'Practice rig';

/** `null` while nothing is open. */
export function inputIdentity(state: EngineState): DeviceIdentity | null {
  const { source, phase, granted, devices } = state;
  if (source === null || phase === 'idle' || phase === 'stopped' || phase === 'asking') return null;
  if (source.kind === 'rig') return { deviceId: '', groupId: '', label: RIG_LABEL };
  if (source.kind === 'file') return { deviceId: '', groupId: '', label: `File ${source.file.name}` };
  if (granted === null) return null;
  const listed = devices.find((device) =>
    source.deviceId === null ? device.label === granted.label : device.deviceId === source.deviceId,
  );
  return {
    deviceId: listed?.deviceId ?? source.deviceId ?? '',
    groupId: listed?.groupId ?? '',
    label: granted.label,
  };
}
