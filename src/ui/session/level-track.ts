import type { Job } from '../../job/document.ts';
import { toneSet } from '../../job/tone-set.ts';

/** Form of the tone set that the app makes: what every radio plays. */
export const TONE_SET_FORM = { sampleRateHz: 44_100, bits: 16 } as const;

/** File name of the channel's track: the setting tone at its planned or reduced level, or the bursts. `null` where the set has none. */
export function gainTrackFile(
  job: Job,
  channelId: string,
  which: 'level' | 'reduced' | 'bursts',
): string | null {
  try {
    const track = toneSet(job, TONE_SET_FORM).tracks.find((one) => one.id === `${channelId}-${which}`);
    return track?.file ?? null;
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}

/** File name of a track by its id; its id where the set has none of that name. */
export function trackFile(job: Job | null, id: string): string {
  return toneSet(job, TONE_SET_FORM).tracks.find((one) => one.id === id)?.file ?? id;
}
