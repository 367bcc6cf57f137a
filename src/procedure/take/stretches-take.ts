import { type ToneStretches, toneStretches } from '../../dsp/time/tone-stretches.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** A tone was played that comes and goes. */
export interface StretchesTakeRequest {
  kind: 'stretches';
  channelIndex: number;
  frequencyHz: number;
}

export interface StretchesTakeReading extends TakeFacts {
  kind: 'stretches';
  /** `null` where the tone was not heard at all. */
  tone: ToneStretches | null;
}

/** @throws RangeError where the take has no such channel */
export function readStretchesTake(request: StretchesTakeRequest, take: Take): StretchesTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  return {
    kind: 'stretches',
    ...factsOf(take),
    tone: toneStretches(samples, take.sampleRateHz, request.frequencyHz),
  };
}
