import type { CalibrationMatch, DeviceIdentity, Found, OfDevice } from './job-store.ts';

/** These ids follow whatever the system has chosen, so they name no device. */
const SHIFTING_IDS = new Set(['', 'default', 'communications']);

/**
 * The newest of what is known of a device's input channel. The browser changes device ids whenever site data is
 * cleared (mediacapture-main), so label and group stand in for them, and the label alone as a last resort.
 *
 * @param all newest first, as a snapshot holds them
 */
export function matchDevice<T extends OfDevice>(
  all: readonly T[],
  device: DeviceIdentity,
  inputChannel: number,
): Found<T> | null {
  const ofChannel = all.filter((one) => one.inputChannel === inputChannel);
  const kinds: [CalibrationMatch, (one: DeviceIdentity) => boolean][] = [
    ['device', (one) => !SHIFTING_IDS.has(device.deviceId) && one.deviceId === device.deviceId],
    [
      'label-and-group',
      (one) => device.label !== '' && one.label === device.label && one.groupId === device.groupId,
    ],
    ['label', (one) => device.label !== '' && one.label === device.label],
  ];
  for (const [match, fits] of kinds) {
    const known = ofChannel.find((one) => fits(one.device));
    if (known !== undefined) return { known, match };
  }
  return null;
}
