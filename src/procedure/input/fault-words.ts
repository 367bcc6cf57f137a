import type { InputFault } from '../../dsp/honesty/judgement.ts';

/** What each fault means to whoever measures, and what to do. */
export const FAULT_WORDS: Record<InputFault, { sentence: string; remedy: string }> = {
  'automatic-gain': {
    sentence: 'This input turns itself up and down: no level read through it can be believed.',
    remedy: 'Turn automatic gain off in the system’s sound settings, or use another input; then check again.',
  },
  compression: {
    sentence: 'This input squeezes louder sounds: a step up reads smaller than it is.',
    remedy: 'Turn enhancements off in the system’s sound settings, or play it softer; then check again.',
  },
  'noise-gate': {
    sentence: 'This input shuts when it is quiet: noise floors read through it are not there.',
    remedy: 'Turn noise reduction off in the system’s sound settings, or use another input.',
  },
  'noise-suppression': {
    sentence:
      'This input takes away noise beside the tone: distortion and noise read through it are too low.',
    remedy:
      'Turn noise reduction and voice clarity off in the system’s sound settings, or use another input.',
  },
  'echo-cancelling': {
    sentence: 'This input takes away what this device plays.',
    remedy: 'Turn echo cancelling off, or play from another device.',
  },
  'band-limit': {
    sentence: 'This input is cut off well inside the audio band, as a telephone’s is.',
    remedy: 'Use an input without a hands-free profile, such as a wired one.',
  },
  resampled: {
    sentence: 'This input is resampled badly: mirror images of the tone stand beside it.',
    remedy: 'Set the system’s rate to the input’s own, then check again.',
  },
  'clock-error': {
    sentence: 'The tone comes back at another frequency than it was played at.',
    remedy: 'Set player and input to the rates that they say they have, then check again.',
  },
  'one-channel-twice': {
    sentence: 'Both channels of this input carry one and the same signal: it is mono.',
    remedy: 'Take every reading from the first channel, one lead at a time.',
  },
};
