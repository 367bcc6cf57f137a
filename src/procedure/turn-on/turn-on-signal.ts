import type { StepsSpec } from '../../dsp/tones/spec.ts';
import type { StretchesTakeRequest } from '../take/stretches-take.ts';
import type { TurnOnPurpose, TurnOnTask } from './turn-on.ts';

/** Long enough to wake what is asleep, and to be caught after it. */
const TONE_SECONDS = 4;

/** What is played for a try: the tone, the pause or the quiet tone in its place, the tone again. */
export function turnOnSpec(
  task: Pick<TurnOnTask, 'toneHz' | 'keepAliveHz' | 'toneDbfs'>,
  purpose: TurnOnPurpose,
): StepsSpec {
  const { toneDbfs } = task;
  return purpose.try === 'silence'
    ? {
        kind: 'steps',
        frequencyHz: task.toneHz,
        levelsDbfs: [toneDbfs, toneDbfs],
        stepSeconds: TONE_SECONDS,
        pauseSeconds: purpose.seconds,
      }
    : {
        kind: 'steps',
        frequencyHz: task.keepAliveHz,
        levelsDbfs: [toneDbfs, purpose.levelDbfs, toneDbfs],
        stepSeconds: purpose.seconds,
        pauseSeconds: 0,
      };
}

export function turnOnRequest(
  task: TurnOnTask,
  purpose: TurnOnPurpose,
  channelIndex: number,
): StretchesTakeRequest {
  const frequencyHz = purpose.try === 'silence' ? task.toneHz : task.keepAliveHz;
  return { kind: 'stretches', channelIndex, frequencyHz };
}
