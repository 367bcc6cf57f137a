import { doubtSentence } from '../gain/doubts.ts';
import type { PinkTakeReading } from '../take/pink-take.ts';
import type { ToneTakeReading } from '../take/tone-take.ts';

/** Closer to the cabin's own noise its correction is larger than 1.3 dB (references, level addition), and no longer to be trusted. */
const LEAST_OVER_AMBIENT_DB = 6;

/** Why a tone says nothing about a level: one sentence, or `null` where it does. */
export function whyNotTone(reading: ToneTakeReading, toneHz: number): string | null {
  const { tone, clipping } = reading.channel;
  if (reading.doubts.includes('input-overload')) {
    return 'The input itself was overloaded: lower it, or use a stronger divider, and record again.';
  }
  if (reading.grade === 'invalid') return invalid(reading.doubts);
  if (tone === null) {
    return `The ${toneHz} Hz tone was not heard: see that it plays and that the input is on this channel.`;
  }
  if (clipping.verdict === 'clipped') {
    return 'The tone was clipped, so its level says nothing: turn the source down for both channels of the pair.';
  }
  return null;
}

/** @param ambientDbfs cabin's own level in the same band; `null` where it was silent */
export function whyNotNoise(reading: PinkTakeReading, ambientDbfs: number | null): string | null {
  const level = reading.levels[0]?.levelDbfs ?? null;
  if (reading.doubts.includes('input-overload')) {
    return 'The microphone’s input was overloaded: lower it, then measure every channel again.';
  }
  if (reading.grade === 'invalid') return invalid(reading.doubts);
  if (level === null) return 'The input delivered exact silence: see that the microphone is on.';
  if (ambientDbfs !== null && level < ambientDbfs + LEAST_OVER_AMBIENT_DB) {
    return `The noise stands only ${Math.max(0, level - ambientDbfs).toFixed(1)} dB over the cabin itself: play it louder, or find a quieter place.`;
  }
  return null;
}

export function whyNotAmbient(reading: PinkTakeReading): string | null {
  return reading.grade === 'invalid' ? invalid(reading.doubts) : null;
}

function invalid(doubts: PinkTakeReading['doubts']): string {
  const [worst] = doubts;
  return `${worst === undefined ? 'The recording is of no use.' : doubtSentence(worst)} Record it again.`;
}

/** Level without the cabin's own: energies are subtracted (references, level addition). */
export function withoutAmbient(levelDbfs: number, ambientDbfs: number | null): number {
  if (ambientDbfs === null) return levelDbfs;
  return 10 * Math.log10(10 ** (levelDbfs / 10) - 10 ** (ambientDbfs / 10));
}
