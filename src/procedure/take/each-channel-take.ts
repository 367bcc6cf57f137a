import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';
import { readToneTake, type ToneTakeReading } from './tone-take.ts';

/** A steady tone was played; it is looked for on every channel of the input. */
export interface EachChannelTakeRequest {
  kind: 'each-channel';
  frequencyHz: number;
}

export interface EachChannelTakeReading extends TakeFacts {
  kind: 'each-channel';
  channels: ToneTakeReading[];
}

/** @throws RangeError where the take holds nothing */
export function readEachChannelTake(request: EachChannelTakeRequest, take: Take): EachChannelTakeReading {
  channelOfTake(take, 0);
  const { frequencyHz } = request;
  return {
    kind: 'each-channel',
    ...factsOf(take),
    channels: take.channels.map((_, channelIndex) =>
      readToneTake({ kind: 'tone', channelIndex, frequencyHz }, take),
    ),
  };
}
