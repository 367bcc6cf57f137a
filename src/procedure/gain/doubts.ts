import type { Doubt } from '../../dsp/reading.ts';

const SENTENCES: Record<Doubt, string> = {
  'warming-up': 'The input is still warming up.',
  gap: 'Part of the sound was lost on its way.',
  'phase-break': 'The tone jumped: sound was lost, or the player started again.',
  'digital-silence': 'The input delivers exact silence.',
  'not-a-number': 'The input delivered broken samples.',
  'input-overload': 'The input itself is overloaded.',
  'level-unsteady': 'The level does not hold still, as if something adjusted it.',
  'rates-differ': 'The sound was resampled on its way, which bends the highest frequencies.',
  'rate-unknown': 'The browser does not say at which rate it captures.',
  'processing-on': 'The input processes its sound, so levels and distortion are not to be trusted.',
  'processing-unknown': 'The browser does not say whether the input processes its sound.',
  'narrow-band': 'The input lacks the upper part of the band, so distortion reads low.',
  'page-hidden': 'The page was out of sight, and browsers starve hidden pages.',
  'source-changed': 'The input changed while it was being read.',
  paused: 'The input is paused.',
};

/** A doubt about a reading, as a sentence for the person at the vehicle. */
export function doubtSentence(doubt: Doubt): string {
  return SENTENCES[doubt];
}
