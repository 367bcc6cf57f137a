/** The microphone on the input at hand: its calibration file, and what a full scale is in sound pressure. */
import type { StoredMicrophone, StoredSoundScale } from '../../job/store/job-store.ts';
import { type MicrophoneCurve, microphoneCurve } from '../../plan/calibration/microphone-curve.ts';
import { knownOfInput } from './known-of-input.ts';

export const microphone = knownOfInput<StoredMicrophone>(
  'The calibration file',
  (store, device, channel) => store.microphoneFor(device, channel),
  (store, value) => store.addMicrophone(value),
);

export const soundScaleOfInput = knownOfInput<StoredSoundScale>(
  'The sound scale',
  (store, device, channel) => store.soundScaleFor(device, channel),
  (store, value) => store.addSoundScale(value),
);

/** What the microphone in use is known to deviate by, for a task to carry; `null` without a file. */
export function microphoneInUse(): { file: string; curve: MicrophoneCurve } | null {
  const file = microphone.known.get()?.file ?? null;
  return file === null ? null : { file: file.name, curve: microphoneCurve(file.points, file.meaning) };
}
