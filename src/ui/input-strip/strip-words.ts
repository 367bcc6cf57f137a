/** The strip's one line: where samples come from, and the first thing wrong with them. */
import type { EngineState } from '../../audio/engine/engine-state.ts';
import type { LiveReading } from '../../dsp/reading.ts';
import { DOUBT_WORDS } from './doubt-words.ts';

export function inputName(state: EngineState): string {
  const { source } = state;
  if (source === null || state.phase === 'idle' || state.phase === 'stopped') return 'No input';
  if (source.kind === 'rig') return 'Practice rig';
  if (source.kind === 'file') return source.file.name;
  return state.granted?.label || 'Input';
}

export interface Wrong {
  brief: string;
  full: string;
}

/** First thing wrong, or `null`. A stop beats a doubt. */
export function firstWrong(state: EngineState, reading: LiveReading | null): Wrong | null {
  if (state.trouble !== null)
    return { brief: 'stopped', full: `${state.trouble.sentence} ${state.trouble.goOn}` };
  if (state.phase === 'paused') return DOUBT_WORDS.paused;
  // A level that moves is what turning a control looks like; the Input station lists it among the doubts.
  const doubt = reading?.doubts.find((one) => one !== 'level-unsteady');
  return doubt === undefined ? null : DOUBT_WORDS[doubt];
}
