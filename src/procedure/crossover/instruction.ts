import type { CrossoverState } from './crossover.ts';
import { channelOf } from './next.ts';

type Facts = Omit<CrossoverState, 'instruction'>;

/** What to do with the hands now: one sentence. */
export function instructionFor(state: Facts): string {
  if (state.refused !== null) return state.refused;
  const { name, fedBy } = channelOf(state.task, state.channelId);
  const channel = name.toLowerCase();
  if (state.next === 'reference') {
    const side = fedBy === 'right' ? 'right' : 'left';
    const through = state.task.ahead === 'speaker-level' ? ' through the divider' : '';
    return state.way === 'input-plug'
      ? `Pull the amplifier’s ${side} input plug, connect the input to that plug${through}, and take the reference.`
      : `Pull the speaker plug of the ${channel}, switch its filters off, connect the input to its terminals, and take the reference.`;
  }
  const measured = state.measured[state.channelId];
  if (measured === undefined) {
    const back =
      state.reference?.way === 'filters-off' ? 'Switch the filters on again' : 'Plug the amplifier in again';
    const first = state.reference === null ? 'Connect' : `${back}, connect`;
    return `${first} the input to the terminals of the ${channel} through the divider, and sweep it.`;
  }
  const [finding] = state.findings;
  return finding === undefined ? `The filters of the ${channel} are right: accept them.` : finding.remedy;
}
