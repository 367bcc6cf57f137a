import { type MarkerEnd, renderMarker } from '../../dsp/tones/marker.ts';
import { renderTone } from '../../dsp/tones/render-tone.ts';
import type { SidedTone, TrackForm } from './track-wav.ts';
import { WavEncoder } from './wav-encoder.ts';

/** A tone within a run track. A silence may carry a low tone, for converters that fall asleep. */
type PlacedTone = SidedTone & {
  startSeconds: number;
  keepAlive?: { frequencyHz: number; levelDbfs: number };
};

/** What a run track's manifest says of its sound. */
export interface RunSound {
  durationSeconds: number;
  markers: { startSeconds: number; endSeconds: number; levelDbfs: number };
  parts: readonly PlacedTone[];
}

/** Something that sounds; the sides that do not are `null`. */
interface Sounding {
  startFrame: number;
  sides: () => [Float64Array | null, Float64Array | null];
}

const PIECE_FRAMES = 65_536;

/**
 * A run track as a stereo WAV file, piece by piece, one part in memory at a time. Between the parts, and on a side
 * that carries nothing, are exact zeros; the same seed gives the same bytes.
 *
 * @throws RangeError with one sentence where a part cannot be rendered as asked, or begins before another has ended
 */
export function* runWav(run: RunSound, form: TrackForm): Generator<Uint8Array<ArrayBuffer>, void> {
  const { sampleRateHz } = form;
  const frames = Math.round(run.durationSeconds * sampleRateHz);
  const encoder = new WavEncoder({ ...form, channelCount: 2, frames });
  yield encoder.header();
  let written = 0;
  for (const { startFrame, sides } of soundingIn(run, sampleRateHz)) {
    if (startFrame < written) {
      throw new RangeError(
        `A part of the run track begins at ${startFrame / sampleRateHz} s, before the one ahead of it has ended; parts must not overlap.`,
      );
    }
    yield* inPieces(encoder, [null, null], startFrame - written);
    const [left, right] = sides();
    const length = left?.length ?? right?.length ?? 0;
    yield* inPieces(encoder, [left, right], length);
    written = startFrame + length;
  }
  yield* inPieces(encoder, [null, null], frames - written);
  const pad = encoder.end();
  if (pad.length > 0) yield pad;
}

function soundingIn({ markers, parts }: RunSound, sampleRateHz: number): Sounding[] {
  const frameAt = (seconds: number) => Math.round(seconds * sampleRateHz);
  const marker = (end: MarkerEnd, seconds: number): Sounding => ({
    startFrame: frameAt(seconds),
    sides: () => {
      const samples = renderMarker(end, sampleRateHz, markers.levelDbfs);
      return [samples, samples];
    },
  });
  return [
    marker('start', markers.startSeconds),
    marker('end', markers.endSeconds),
    ...parts.map((part) => ({
      startFrame: frameAt(part.startSeconds),
      sides: () => sidesOf(part, sampleRateHz),
    })),
  ].sort((a, b) => a.startFrame - b.startFrame);
}

function sidesOf(part: PlacedTone, sampleRateHz: number): [Float64Array | null, Float64Array | null] {
  if (part.kind === 'silence' && part.keepAlive === undefined) return [null, null];
  const samples =
    part.kind === 'silence' && part.keepAlive !== undefined
      ? renderTone({ kind: 'sine', ...part.keepAlive, durationSeconds: part.durationSeconds }, sampleRateHz)
      : renderTone(part, sampleRateHz);
  return [part.channels === 'right' ? null : samples, part.channels === 'left' ? null : samples];
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
