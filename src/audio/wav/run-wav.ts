import { type RunSound, runSoundings } from '../../dsp/tones/run-sound.ts';
import type { TrackForm } from './track-wav.ts';
import { WavEncoder } from './wav-encoder.ts';

const PIECE_FRAMES = 65_536;

/**
 * A run track as a stereo WAV file, piece by piece, one part in memory at a time. Between the parts, and on a side
 * that carries nothing, are exact zeros; the same seed gives the same bytes.
 *
 * @throws RangeError as `runSoundings` does
 */
export function* runWav(run: RunSound, form: TrackForm): Generator<Uint8Array<ArrayBuffer>, void> {
  const { sampleRateHz } = form;
  const soundings = runSoundings(run, sampleRateHz);
  const frames = Math.round(run.durationSeconds * sampleRateHz);
  const encoder = new WavEncoder({ ...form, channelCount: 2, frames });
  yield encoder.header();
  let written = 0;
  for (const { startFrame, frames: length, channels, render } of soundings) {
    yield* inPieces(encoder, [null, null], startFrame - written);
    const samples = render();
    const left = channels === 'right' ? null : samples;
    const right = channels === 'left' ? null : samples;
    yield* inPieces(encoder, [left, right], length);
    written = startFrame + length;
  }
  yield* inPieces(encoder, [null, null], frames - written);
  const pad = encoder.end();
  if (pad.length > 0) yield pad;
}

function* inPieces(
  encoder: WavEncoder,
  sides: readonly [Float64Array | null, Float64Array | null],
  frames: number,
): Generator<Uint8Array<ArrayBuffer>, void> {
  for (let start = 0; start < frames; start += PIECE_FRAMES) {
    const length = Math.min(PIECE_FRAMES, frames - start);
    yield encoder.encode(
      sides.map((samples) => samples?.subarray(start, start + length) ?? null),
      length,
    );
  }
}
