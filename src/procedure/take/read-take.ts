import {
  type EachChannelTakeReading,
  type EachChannelTakeRequest,
  readEachChannelTake,
} from './each-channel-take.ts';
import { type NoiseTakeReading, type NoiseTakeRequest, readNoiseTake } from './noise-take.ts';
import { type PinkTakeReading, type PinkTakeRequest, readPinkTake } from './pink-take.ts';
import { type PulseTakeReading, type PulseTakeRequest, readPulseTake } from './pulse-take.ts';
import { readStepsTake, type StepsTakeReading, type StepsTakeRequest } from './steps-take.ts';
import { readStretchesTake, type StretchesTakeReading, type StretchesTakeRequest } from './stretches-take.ts';
import { readSweepTake, type SweepTakeReading, type SweepTakeRequest } from './sweep-take.ts';
import type { Take } from './take.ts';
import { readToneTake, type ToneTakeReading, type ToneTakeRequest } from './tone-take.ts';

/** What was played, and so what is to be measured. */
export type TakeRequest =
  | NoiseTakeRequest
  | PinkTakeRequest
  | PulseTakeRequest
  | ToneTakeRequest
  | EachChannelTakeRequest
  | StretchesTakeRequest
  | StepsTakeRequest
  | SweepTakeRequest;

/** What was measured; its `kind` is the request's. */
export type TakeReading =
  | NoiseTakeReading
  | PinkTakeReading
  | PulseTakeReading
  | ToneTakeReading
  | EachChannelTakeReading
  | StretchesTakeReading
  | StepsTakeReading
  | SweepTakeReading;

export type ReadingFor<R extends TakeRequest> = Extract<TakeReading, { kind: R['kind'] }>;

/**
 * Reads a take for what was played. Pure: the same samples give the same reading, bit for bit.
 *
 * @throws RangeError where the take cannot hold what was asked for (no such channel, no frames), or no such kind is known
 */
export function readTake<R extends TakeRequest>(request: R, take: Take): ReadingFor<R>;
export function readTake(request: TakeRequest, take: Take): TakeReading {
  switch (request.kind) {
    case 'noise':
      return readNoiseTake(request, take);
    case 'pink':
      return readPinkTake(request, take);
    case 'pulses':
      return readPulseTake(request, take);
    case 'tone':
      return readToneTake(request, take);
    case 'each-channel':
      return readEachChannelTake(request, take);
    case 'steps':
      return readStepsTake(request, take);
    case 'stretches':
      return readStretchesTake(request, take);
    case 'sweep':
      return readSweepTake(request, take);
    default:
      // A request may come out of a file.
      throw new RangeError(`No take is of kind ${JSON.stringify((request as TakeRequest).kind)}.`);
  }
}
