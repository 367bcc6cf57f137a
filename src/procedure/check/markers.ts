import { MarkerFinder, type MarkerFinding } from '../../dsp/time/marker-finder.ts';
import type { CheckRecording } from './recording.ts';

/** What a subwoofer's low-pass leaves of the markers lies below this (`MarkerFinder`). */
const BEHIND_LOW_PASS_HZ = 900;
const BLOCK_FRAMES = 65_536;

/** Both markers as the channel that hears them best has them. */
export interface SeenMarkers {
  start: MarkerFinding | null;
  end: MarkerFinding | null;
}

/**
 * Looks for the markers in every used channel; where none has any, once more in the low part of their band.
 *
 * @param onFrames told how many more frames have been looked through
 */
export async function seenMarkers(
  recording: CheckRecording,
  usedChannels: readonly number[],
  onFrames: (frames: number) => void,
): Promise<SeenMarkers> {
  const whole = await searched(recording, usedChannels, undefined, onFrames);
  if (whole.start !== null || whole.end !== null) return whole;
  return searched(recording, usedChannels, BEHIND_LOW_PASS_HZ, () => {});
}

async function searched(
  recording: CheckRecording,
  usedChannels: readonly number[],
  highestHz: number | undefined,
  onFrames: (frames: number) => void,
): Promise<SeenMarkers> {
  const finders = usedChannels.map(() => new MarkerFinder(recording.sampleRateHz, highestHz));
  for (let frame = 0; frame < recording.frames; frame += BLOCK_FRAMES) {
    const frames = Math.min(BLOCK_FRAMES, recording.frames - frame);
    const block = await recording.read(frame, frames);
    usedChannels.forEach((channel, at) => {
      finders[at]!.push(block[channel]!, frames);
    });
    onFrames(frames);
  }
  return best(finders.map((finder) => finder.finish()));
}

/**
 * Of each marker the likeliest finding. Both from one channel where one channel has both: what a filter delays, it
 * delays alike.
 */
function best(byChannel: readonly (readonly MarkerFinding[])[]): SeenMarkers {
  const pairs = byChannel.map((findings): SeenMarkers => {
    const end = likeliest(findings, 'end');
    const before = findings.filter((one) => end === null || one.middleFrame < end.middleFrame);
    return { start: likeliest(before, 'start'), end };
  });
  const whole = pairs.filter(({ start, end }) => start !== null && end !== null);
  const weight = ({ start, end }: SeenMarkers) => (start?.likeness ?? 0) + (end?.likeness ?? 0);
  const from = whole.length > 0 ? whole : pairs;
  return from.reduce((a, b) => (weight(b) > weight(a) ? b : a), { start: null, end: null });
}

function likeliest(findings: readonly MarkerFinding[], end: MarkerFinding['end']): MarkerFinding | null {
  return findings
    .filter((one) => one.end === end)
    .reduce<MarkerFinding | null>((a, b) => (a === null || b.likeness > a.likeness ? b : a), null);
}
