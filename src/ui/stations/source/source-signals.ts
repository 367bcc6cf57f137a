import type { SourceTone } from '../../../procedure/source/source.ts';
import { toneFrequency, toneLevel } from '../../format/tone-frequency.ts';
import type { Signal } from '../../signal/signal.ts';

/** A steady tone, as long as it is wanted: the player's own limit ends it. */
export function toneSignal(tone: SourceTone, side: 'left' | 'right'): Signal {
  const { frequencyHz, levelDbfs } = tone;
  return {
    spec: { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 600 },
    channels: side,
    description: `${toneFrequency(frequencyHz)} at ${toneLevel(levelDbfs)} on the ${side}`,
    loop: true,
  };
}
