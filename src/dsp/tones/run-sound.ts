/** What sounds when in a run track: the same for the file that a radio plays and for the practice rig. */
import { checkMarker, type MarkerEnd, markerFrames, renderMarker } from './marker.ts';
import { checkToneSpec, renderTone, toneFrames } from './render-tone.ts';
import type { ToneSpec } from './spec.ts';

type Sides = 'left' | 'right' | 'both';

/** A tone within a run track. A silence may carry a low tone, for converters that fall asleep. */
type PlacedTone = ToneSpec & {
  channels: Sides;
  startSeconds: number;
  keepAlive?: { frequencyHz: number; levelDbfs: number };
};

/** What a run track's manifest says of its sound. */
export interface RunSound {
  durationSeconds: number;
  markers: { startSeconds: number; endSeconds: number; levelDbfs: number };
  parts: readonly PlacedTone[];
}

/** A stretch of a run track in which something is to be heard. */
export interface Sounding {
  startFrame: number;
  frames: number;
  /** Sides that carry it; the others are silent meanwhile. */
  channels: Sides;
  /** `null` for a marker. */
  spec: ToneSpec | null;
  /** One channel of it, `frames` long. @throws RangeError for pink noise whose peaks would pass full scale */
  render(): Float64Array;
}

/** What a part plays: under a silence its low tone. */
function specOf({ keepAlive, ...part }: PlacedTone): ToneSpec {
  return part.kind === 'silence' && keepAlive !== undefined
    ? { kind: 'sine', ...keepAlive, durationSeconds: part.durationSeconds }
    : part;
}

function partAt(part: PlacedTone, sampleRateHz: number): Sounding {
  const spec = specOf(part);
  checkToneSpec(spec, sampleRateHz);
  return {
    startFrame: Math.round(part.startSeconds * sampleRateHz),
    frames: toneFrames(spec, sampleRateHz),
    channels: part.channels,
    spec,
    render: () => renderTone(spec, sampleRateHz),
  };
}

function markerAt(end: MarkerEnd, seconds: number, levelDbfs: number, sampleRateHz: number): Sounding {
  checkMarker(sampleRateHz, levelDbfs);
  return {
    startFrame: Math.round(seconds * sampleRateHz),
    frames: markerFrames(sampleRateHz),
    channels: 'both',
    spec: null,
    render: () => renderMarker(end, sampleRateHz, levelDbfs),
  };
}

/**
 * Everything that sounds, in the order of time; between are exact zeros. Nothing is rendered yet.
 *
 * @throws RangeError with one sentence where a part cannot be rendered as asked, begins before another has ended, or
 * does not fit into the track
 */
export function runSoundings(run: RunSound, sampleRateHz: number): Sounding[] {
  const { startSeconds, endSeconds, levelDbfs } = run.markers;
  const all = [
    markerAt('start', startSeconds, levelDbfs, sampleRateHz),
    markerAt('end', endSeconds, levelDbfs, sampleRateHz),
    ...run.parts.map((part) => partAt(part, sampleRateHz)),
  ].sort((a, b) => a.startFrame - b.startFrame);
  checkPlaces(all, run.durationSeconds, sampleRateHz);
  return all.filter(({ spec }) => spec?.kind !== 'silence');
}

function checkPlaces(all: readonly Sounding[], durationSeconds: number, sampleRateHz: number): void {
  let endFrame = 0;
  for (const { startFrame, frames } of all) {
    if (!(startFrame >= endFrame)) {
      throw new RangeError(
        `A part of the run track begins at ${startFrame / sampleRateHz} s, before the one ahead of it has ended; parts must not overlap.`,
      );
    }
    endFrame = startFrame + frames;
  }
  if (!(endFrame <= Math.round(durationSeconds * sampleRateHz))) {
    throw new RangeError(
      `The run track is ${durationSeconds} s long, and its last part ends at ${endFrame / sampleRateHz} s; it must be at least as long.`,
    );
  }
}
