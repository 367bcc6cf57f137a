import { renderTone } from '../../dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import { wavPieces } from './wav-encoder.ts';

/** A tone and the sides of the stereo file that carry it. */
export type SidedTone = ToneSpec & { channels: 'left' | 'right' | 'both' };

export interface TrackForm {
  sampleRateHz: number;
  bits: 16 | 24;
  ditherSeed: number;
}

/**
 * A track as a stereo WAV file, piece by piece. The side that carries nothing,
 * and a track of silence, are exact zeros; the same seed gives the same bytes.
 *
 * @throws RangeError with one sentence when the tone cannot be rendered as asked
 */
export function* trackWav(tone: SidedTone, form: TrackForm): Generator<Uint8Array<ArrayBuffer>, void> {
  const samples = renderTone(tone, form.sampleRateHz);
  const carried = tone.kind === 'silence' ? null : samples;
  const left = tone.channels === 'right' ? null : carried;
  const right = tone.channels === 'left' ? null : carried;
  yield* wavPieces({ ...form, frames: samples.length }, [left, right]);
}
