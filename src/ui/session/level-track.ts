import type { Job } from '../../job/document.ts';
import { toneSet } from '../../job/tone-set.ts';

/** Form of the tone set that the app makes: what every radio plays. */
export const TONE_SET_FORM = { sampleRateHz: 44_100, bits: 16 } as const;

/** File name of the setting tone that serves this channel; `null` where the set has none. */
export function levelTrackFile(job: Job, channelId: string): string | null {
  try {
    const track = toneSet(job, TONE_SET_FORM).tracks.find(
      (one) => one.kind === 'sine' && one.serves.includes(channelId),
    );
    return track?.file ?? null;
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}
