/** Each doubt in words: what is wrong, and what to do about it. */
import type { Doubt } from '../../dsp/reading.ts';

export interface DoubtWords {
  brief: string;
  full: string;
}

export const DOUBT_WORDS: Record<Doubt, DoubtWords> = {
  'warming-up': {
    brief: 'warming up',
    full: 'The input has just started; the first second is thrown away.',
  },
  gap: {
    brief: 'audio lost',
    full: 'The browser lost some audio and filled it with nothing. Close other tabs and programs if this keeps happening.',
  },
  'phase-break': {
    brief: 'tone jumped',
    full: 'The tone jumped in phase: a piece of audio is missing, or the player skipped.',
  },
  'digital-silence': {
    brief: 'nothing but zeros',
    full: 'The input delivers exact zeros: it is muted, unplugged, or blocked by the system.',
  },
  'not-a-number': {
    brief: 'broken samples',
    full: 'The source delivers samples that are not numbers. Stop and start it again.',
  },
  'input-overload': {
    brief: 'input overloaded',
    full: 'The input itself is overloaded, so its distortion is not the amplifier’s. Lower the input’s level or use a larger divider.',
  },
  'level-unsteady': {
    brief: 'level unsteady',
    full: 'The level does not hold still: the control is moving, or something adjusts the level by itself.',
  },
  'rates-differ': {
    brief: 'resampled',
    full: 'Device and browser run at different sample rates; above 18 kHz and below about −70 dB the figures are the resampler’s.',
  },
  'rate-unknown': {
    brief: 'rate unknown',
    full: 'The browser does not say at which rate the device runs, so it may be resampling.',
  },
  'processing-on': {
    brief: 'processed',
    full: 'Echo cancelling, noise suppression or automatic gain is on; levels cannot be trusted. Switch it off in the system or choose another input.',
  },
  'processing-unknown': {
    brief: 'maybe processed',
    full: 'The browser does not say whether it processes the sound. Check that a steady tone stays steady for ten seconds.',
  },
  'narrow-band': {
    brief: 'narrow band',
    full: 'This input ends at a few kilohertz, as a hands-free link does. Use a wired or USB input.',
  },
  'page-hidden': {
    brief: 'page was hidden',
    full: 'The page was in the background, where browsers slow down. Keep it in front while measuring.',
  },
  'source-changed': {
    brief: 'input changed',
    full: 'The input was switched or reconfigured while measuring. Check the device and start again.',
  },
  paused: { brief: 'paused', full: 'Measuring is paused.' },
};
