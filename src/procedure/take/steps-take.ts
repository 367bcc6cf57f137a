import { judgeInput } from '../../dsp/honesty/judge-input.ts';
import type { InputJudgement } from '../../dsp/honesty/judgement.ts';
import type { StepsSpec } from '../../dsp/tones/spec.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** The stepped tone was played once, whole: what the input makes of it is judged, on all its channels. */
export interface StepsTakeRequest {
  kind: 'steps';
  steps: StepsSpec;
}

export interface StepsTakeReading extends TakeFacts {
  kind: 'steps';
  judgement: InputJudgement;
}

/** @throws RangeError where the take is empty, or the steps are fewer than two */
export function readStepsTake({ steps }: StepsTakeRequest, take: Take): StepsTakeReading {
  channelOfTake(take, 0);
  const { channels, sampleRateHz } = take;
  return { kind: 'steps', ...factsOf(take), judgement: judgeInput({ channels, sampleRateHz, steps }) };
}
