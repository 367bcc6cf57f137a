/** What the next sweep is: for the screen to play, and for the take to be read by. */
import {
  FULL_SWEEP,
  isSmallDriver,
  type ResponseSweep,
  responseSweep,
} from '../../plan/tone/response-sweep.ts';
import type { SweepTakeRequest } from '../take/sweep-take.ts';
import type { CrossoverChannel, CrossoverPurpose, CrossoverState } from './crossover.ts';

type Standing = Pick<CrossoverState, 'task' | 'channelId' | 'way' | 'reference'>;

/** @throws RangeError for a channel that the task does not have */
export function channelOf(task: CrossoverState['task'], channelId: string): CrossoverChannel {
  const channel = task.channels.find(({ id }) => id === channelId);
  if (channel !== undefined) return channel;
  const known = task.channels.map(({ id }) => id).join(', ');
  throw new RangeError(`There is no channel "${channelId}" at this station; it has ${known}.`);
}

/** A reference first, wherever one can be had. */
export function nextTake(state: Standing): CrossoverPurpose['what'] {
  return state.way !== 'none' && state.reference === null ? 'reference' : 'channel';
}

/** A reference is swept whole, so that it serves every channel; a small driver is guarded from the bass. */
export function nextSweep(state: Standing): ResponseSweep {
  const channel = channelOf(state.task, state.channelId);
  return nextTake(state) === 'reference' ? FULL_SWEEP : responseSweep(channel.band);
}

/**
 * Purpose and request of the next take, as the fold expects them back.
 *
 * @param channelIndex of the input
 */
export function nextRequest(
  state: Standing,
  channelIndex: number,
): { purpose: CrossoverPurpose; request: SweepTakeRequest } {
  const what = nextTake(state);
  const sweep = { kind: 'sweep' as const, ...nextSweep(state) };
  const reference = what === 'reference' || state.way === 'none' ? null : (state.reference?.transfer ?? null);
  return {
    purpose: { what, channelId: state.channelId },
    request: { kind: 'sweep', channelIndex, sweep, reference },
  };
}

/** Whether the next sweep reaches a driver that bass destroys. */
export function nextIsGuarded(state: Standing): boolean {
  return nextTake(state) === 'channel' && isSmallDriver(channelOf(state.task, state.channelId).band);
}
