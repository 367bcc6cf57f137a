import type { RunSound } from '../../dsp/tones/run-sound.ts';
import { runWav } from './run-wav.ts';
import { type SidedTone, type TrackForm, trackWav } from './track-wav.ts';

/** Any track of a tone set. */
export type SetTrack = SidedTone | (RunSound & { kind: 'run' });

/**
 * Any track of a tone set as a stereo WAV file, piece by piece.
 *
 * @throws RangeError as `trackWav` and `runWav` do
 */
export function setWav(track: SetTrack, form: TrackForm): Generator<Uint8Array<ArrayBuffer>, void> {
  return track.kind === 'run' ? runWav(track, form) : trackWav(track, form);
}
