import type { LevelState } from './level.ts';
import { nameOf } from './words.ts';

type Facts = Pick<LevelState, 'task' | 'refused' | 'wanted'>;

/** What to do with the hands now, one sentence. */
export function instructionFor({ task, refused, wanted }: Facts): string {
  if (refused !== null) return refused;
  if (wanted === null) return 'Everything is measured: look at the differences, then accept them.';
  if (wanted.what === 'ambient') {
    return 'Engine off, doors shut, nothing playing: let the microphone hear the cabin itself first.';
  }
  const name = nameOf(task, wanted.channelId).toLowerCase();
  if (task.way === 'wire') return `Connect the input to the terminals of ${name} and record its tone.`;
  const place = task.places.find((one) => one.placeId === wanted.placeId)?.name ?? 'the seat';
  return `Let only ${name} play, hold the microphone at head height at ${place}, and record.`;
}
