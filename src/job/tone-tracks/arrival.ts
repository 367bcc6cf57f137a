import { arrivalTrain } from '../../procedure/arrival/train.ts';
import type { TonedChannel, Unfiled } from './channels.ts';

/** The unbroken train of pulses, on both sides, for every channel. */
export function arrivalTracks(channels: readonly TonedChannel[], sampleRateHz: number): Unfiled[] {
  return [
    {
      id: 'arrival',
      channels: 'both',
      serves: channels.flatMap((channel) => channel.serves),
      purpose:
        'Shows polarity and arrival of every channel: let it run without a break while one after the other plays alone.',
      caution: null,
      startSeconds: 0,
      ...arrivalTrain(channels, sampleRateHz).spec,
    },
  ];
}
