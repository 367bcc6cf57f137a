import { StreamMeasurer } from '../../dsp/measure/streaming-measure.ts';
import type { ChannelReading } from '../../dsp/reading.ts';
import { isAskedTone } from '../asked-tone.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** A steady tone was played. */
export interface ToneTakeRequest {
  kind: 'tone';
  channelIndex: number;
  /** What was played; another tone is none. */
  frequencyHz: number;
  /** How far off it may be, as a share of the frequency; what a clock may be off by where it is left out. */
  withinShare?: number;
}

export interface ToneTakeReading extends TakeFacts {
  kind: 'tone';
  /** `tone` is `null` where the asked one was not heard. */
  channel: ChannelReading;
}

/** @throws RangeError where the take has no such channel */
export function readToneTake(request: ToneTakeRequest, take: Take): ToneTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  const measurer = new StreamMeasurer({ sampleRateHz: take.sampleRateHz, channelCount: 1 });
  measurer.push([samples], samples.length);
  const [whole] = measurer.finish();
  if (whole === undefined) throw new Error('One channel was measured and none came back.');
  const isHeard = whole.tone !== null && isAsked(whole.tone.frequencyHz, request);
  const found = whole.clipping.verdict === 'input-overload' ? (['input-overload'] as const) : [];
  return {
    kind: 'tone',
    ...factsOf(take, found),
    channel: isHeard ? whole : { ...whole, tone: null },
  };
}

function isAsked(heardHz: number, { frequencyHz, withinShare }: ToneTakeRequest): boolean {
  if (withinShare === undefined) return isAskedTone(heardHz, frequencyHz);
  return Math.abs(heardHz / frequencyHz - 1) <= withinShare;
}
