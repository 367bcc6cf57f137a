import type { CalibrationMatch, DeviceIdentity, FoundCalibration, StoredCalibration } from './job-store.ts';

/** These ids follow whatever the system has chosen, so they name no device. */
const SHIFTING_IDS = new Set(['', 'default', 'communications']);

/**
 * The newest calibration of a device's input channel. The browser changes device ids whenever site data is
 * cleared (mediacapture-main), so label and group stand in for them, and the label alone as a last resort.
 *
 * @param calibrations newest first, as a snapshot holds them
 */
export function matchCalibration(
  calibrations: readonly StoredCalibration[],
  device: DeviceIdentity,
  inputChannel: number,
): FoundCalibration | null {
  const ofChannel = calibrations.filter((one) => one.inputChannel === inputChannel);
  const kinds: [CalibrationMatch, (one: DeviceIdentity) => boolean][] = [
    ['device', (one) => !SHIFTING_IDS.has(device.deviceId) && one.deviceId === device.deviceId],
    [
      'label-and-group',
      (one) => device.label !== '' && one.label === device.label && one.groupId === device.groupId,
    ],
    ['label', (one) => device.label !== '' && one.label === device.label],
  ];
  for (const [match, fits] of kinds) {
    const calibration = ofChannel.find((one) => fits(one.device));
    if (calibration !== undefined) return { calibration, match };
  }
  return null;
}
