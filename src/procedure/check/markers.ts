import { MarkerFinder, type MarkerFinding } from '../../dsp/time/marker-finder.ts';
import type { CheckRecording } from './recording.ts';

/** What a subwoofer's low-pass leaves of the markers lies below this (`MarkerFinder`). */
const BEHIND_LOW_PASS_HZ = 900;
const BLOCK_FRAMES = 65_536;

/** Further than any clock is off: then two markers are of two passes of the track. */
const FURTHEST_PPM = 1000;

/** Both markers of one pass where both were found, else the likelier one alone. */
export interface SeenMarkers {
  start: MarkerFinding | null;
  end: MarkerFinding | null;
}

const NONE: SeenMarkers = { start: null, end: null };

/**
 * Looks for the markers in every used channel; where none has any, once more in the low part of their band.
 *
 * @param apartSeconds from one to the other as they are played
 * @param onFrames told how many more frames have been looked through
 */
export async function seenMarkers(
  recording: CheckRecording,
  usedChannels: readonly number[],
  apartSeconds: number,
  onFrames: (frames: number) => void,
): Promise<SeenMarkers> {
  const apartFrames = apartSeconds * recording.sampleRateHz;
  const whole = best(await searched(recording, usedChannels, undefined, onFrames), apartFrames);
  if (whole !== NONE) return whole;
  return best(await searched(recording, usedChannels, BEHIND_LOW_PASS_HZ, () => {}), apartFrames);
}

async function searched(
  recording: CheckRecording,
  usedChannels: readonly number[],
  highestHz: number | undefined,
  onFrames: (frames: number) => void,
): Promise<(readonly MarkerFinding[])[]> {
  const finders = usedChannels.map(() => new MarkerFinder(recording.sampleRateHz, highestHz));
  for (let frame = 0; frame < recording.frames; frame += BLOCK_FRAMES) {
    const frames = Math.min(BLOCK_FRAMES, recording.frames - frame);
    const block = await recording.read(frame, frames);
    usedChannels.forEach((channel, at) => {
      finders[at]!.push(block[channel]!, frames);
    });
    onFrames(frames);
  }
  return finders.map((finder) => finder.finish());
}

/** A pair of one channel, for what a filter delays, it delays alike; the likeliest of all. */
function best(byChannel: readonly (readonly MarkerFinding[])[], apartFrames: number): SeenMarkers {
  const pairs = byChannel.flatMap((findings) => pairsIn(findings, apartFrames));
  const single = byChannel.flat().map((one): SeenMarkers => ({ ...NONE, [one.end]: one }));
  const weight = ({ start, end }: SeenMarkers) => (start?.likeness ?? 0) + (end?.likeness ?? 0);
  const from = pairs.length > 0 ? pairs : single;
  return from.reduce((a, b) => (weight(b) > weight(a) ? b : a), NONE);
}

function pairsIn(findings: readonly MarkerFinding[], apartFrames: number): SeenMarkers[] {
  const of = (end: MarkerFinding['end']) => findings.filter((one) => one.end === end);
  return of('start').flatMap((start) =>
    of('end').flatMap((end) => {
      const ppm = ((end.middleFrame - start.middleFrame) / apartFrames - 1) * 1e6;
      return Math.abs(ppm) <= FURTHEST_PPM ? [{ start, end }] : [];
    }),
  );
}
