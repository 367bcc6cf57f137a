/** What the granted settings alone cast doubt on, for as long as the input stays open. */
import type { Doubt } from '../../dsp/reading.ts';
import type { Granted } from '../engine/engine-state.ts';

/** Telephone links run at 8 or 16 kHz, some at 24 kHz; no line input does. */
const TELEPHONE_RATE_HZ = 24_000;
/**
 * Wireless headsets switch to a telephone link as soon as their microphone
 * opens. A plain "headset" is left out: a wired one is the input of a phone.
 */
const WIRELESS_LABEL = /bluetooth|hands-?free|airpods/i;

export function doubtsOfGrant(granted: Granted): Doubt[] {
  const doubts: Doubt[] = [];
  const promised = [granted.echoCancellation, granted.noiseSuppression, granted.autoGainControl];
  if ([...promised, granted.voiceIsolation].includes(true)) doubts.push('processing-on');
  else if (promised.includes(null)) doubts.push('processing-unknown');
  if (granted.sampleRateHz === null) doubts.push('rate-unknown');
  else if (granted.sampleRateHz !== granted.contextRateHz) doubts.push('rates-differ');
  const rateHz = granted.sampleRateHz ?? granted.contextRateHz;
  if (rateHz <= TELEPHONE_RATE_HZ || WIRELESS_LABEL.test(granted.label)) doubts.push('narrow-band');
  return doubts;
}
