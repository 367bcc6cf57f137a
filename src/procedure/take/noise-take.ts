import { findInterruptions, type Interruptions } from '../../dsp/noise/interruptions.ts';
import { type NoiseReading, readNoise } from '../../dsp/noise/noise-reading.ts';
import type { Doubt } from '../../dsp/reading.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** Silence was played. */
export interface NoiseTakeRequest {
  kind: 'noise';
  channelIndex: number;
}

export interface NoiseTakeReading extends TakeFacts, NoiseReading {
  kind: 'noise';
  interruptions: Interruptions;
}

/** A sample within one part in a thousand of full scale: noise that reaches it is cut off there. */
const FULL_SCALE = 0.999;

/** @throws RangeError where the take has no such channel or is shorter than a second */
export function readNoiseTake(request: NoiseTakeRequest, take: Take): NoiseTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  const interruptions = findInterruptions(samples, take.sampleRateHz);
  const reading = readNoise(samples, take.sampleRateHz);
  return {
    kind: 'noise',
    ...reading,
    ...factsOf(take, doubtsOf(samples, reading, interruptions)),
    interruptions,
  };
}

function doubtsOf(samples: Float32Array, reading: NoiseReading, { dropouts }: Interruptions): Doubt[] {
  const doubts: Doubt[] = [];
  // A level that falls away and comes back may be the chain's own; zeros and held values are a lost recording.
  if (dropouts.some(({ kind }) => kind === 'zeros' || kind === 'held')) doubts.push('gap');
  if (reading.floor.levelDbfs === null) doubts.push('digital-silence');
  if (samples.some((value) => Math.abs(value) >= FULL_SCALE)) doubts.push('input-overload');
  return doubts;
}
