import { sinePeak } from './level.ts';
import { checkLevel, checkRate } from './limits.ts';
import { sineOfCycles } from './phase.ts';

/** Which end of a run track a marker stands at. */
export type MarkerEnd = 'start' | 'end';

/**
 * Band of the markers. Below the 4 kHz of the poorest rate there is enough left to find them, lossy coders
 * keep the whole of it, every driver but a subwoofer plays it, and what a subwoofer's low-pass filter leaves of
 * the lowest part is still above the noise of a wired recording.
 */
export const MARKER_LOW_HZ = 200;
export const MARKER_HIGH_HZ = 5_600;

/**
 * Milliseconds of the glides, in order. No length stands twice in the two lists, so no glide fits another and
 * each marker fits itself at one place only, the other nowhere, even when part of it is cut off.
 */
const GLIDE_MILLISECONDS: Readonly<Record<MarkerEnd, readonly number[]>> = {
  start: [22, 46, 14, 38, 30, 54, 18, 34],
  end: [40, 16, 52, 24, 32, 44, 20, 28],
};

/** Both markers last as long as their glides together. */
export const MARKER_SECONDS = 0.256;

/** Shorter than a tone's, so that the ends of the band are kept: the onset spreads over some 200 Hz. */
const FADE_SECONDS = 0.005;

/**
 * Value of a marker of peak 1 at a time, at any real `seconds` from its start: eight linear glides of frequency
 * between `MARKER_LOW_HZ` and `MARKER_HIGH_HZ`, the first going up in the start marker and down in the end
 * marker, then the other way in turn; phase runs on, ends are faded. Zero outside.
 */
export function markerValue(end: MarkerEnd, seconds: number): number {
  if (!(seconds > 0 && seconds < MARKER_SECONDS)) return 0;
  let goingUp = end === 'start';
  let cyclesBefore = 0;
  let startSeconds = 0;
  let cycles = 0;
  for (const milliseconds of GLIDE_MILLISECONDS[end]) {
    const glideSeconds = milliseconds / 1000;
    const within = Math.min(seconds - startSeconds, glideSeconds);
    const fromHz = goingUp ? MARKER_LOW_HZ : MARKER_HIGH_HZ;
    const towardsHz = goingUp ? MARKER_HIGH_HZ : MARKER_LOW_HZ;
    cycles = cyclesBefore + within * (fromHz + ((towardsHz - fromHz) * within) / (2 * glideSeconds));
    startSeconds += glideSeconds;
    if (seconds <= startSeconds) break;
    cyclesBefore = cycles;
    goingUp = !goingUp;
  }
  const fromEdge = Math.min(seconds, MARKER_SECONDS - seconds);
  const gain = fromEdge < FADE_SECONDS ? 0.5 - 0.5 * Math.cos((Math.PI * fromEdge) / FADE_SECONDS) : 1;
  return gain * sineOfCycles(cycles - Math.floor(cycles));
}

/** @throws RangeError as `renderMarker` does */
export function checkMarker(sampleRateHz: number, levelDbfs: number): void {
  checkRate(sampleRateHz);
  checkLevel(levelDbfs);
  if (sampleRateHz < 16_000) {
    throw new RangeError(
      `A marker reaches ${MARKER_HIGH_HZ} Hz: a sample rate of ${sampleRateHz} Hz is too low, at least 16000 Hz is needed.`,
    );
  }
}

/** How many frames `renderMarker` makes. */
export function markerFrames(sampleRateHz: number): number {
  return Math.ceil(MARKER_SECONDS * sampleRateHz);
}

/**
 * One marker, whose start is frame 0. The level is that of a steady sine of the same peak (AES17).
 *
 * @throws RangeError for a rate or level that cannot be rendered, or a rate that cannot hold the band
 */
export function renderMarker(end: MarkerEnd, sampleRateHz: number, levelDbfs: number): Float64Array {
  checkMarker(sampleRateHz, levelDbfs);
  const peak = sinePeak(levelDbfs);
  const samples = new Float64Array(markerFrames(sampleRateHz));
  for (let frame = 0; frame < samples.length; frame += 1) {
    samples[frame] = peak * markerValue(end, frame / sampleRateHz);
  }
  return samples;
}
