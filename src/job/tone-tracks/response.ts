import type { Unfiled } from './channels.ts';

const SWEEP_SECONDS = 15;

/** One slow sweep for each side: whatever is fed by that side shows its filters and its equalisation in it. */
export function sweepTracks(sampleRateHz: number): Unfiled[] {
  return (['left', 'right'] as const).map((side) => ({
    id: `${side}-sweep`,
    kind: 'sweep',
    channels: side,
    serves: [],
    purpose: `Shows the response and the filters of whatever the ${side} side feeds.`,
    caution: 'It runs through the whole band: keep tweeters behind their high-pass, and the level moderate.',
    startHz: 20,
    endHz: Math.min(20_000, 0.45 * sampleRateHz),
    levelDbfs: -20,
    startSeconds: 0,
    durationSeconds: SWEEP_SECONDS,
  }));
}
