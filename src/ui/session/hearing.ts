/** Whether an input is heard, and which button of the strip it takes where it is not. */
import { useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';

/** One sentence in the words of the strip's own button; `null` where samples come in. */
export function whyNothingIsHeard(): string | null {
  switch (soundEngine.getState().phase) {
    case 'warming-up':
    case 'running':
      return null;
    case 'asking':
      return 'The input is being opened: allow it where the browser asks.';
    case 'paused':
      return 'Nothing is heard: press Resume in the strip below first.';
    case 'idle':
    case 'stopped':
      return 'Nothing is heard yet: press Listen in the strip below first.';
  }
}

export function useWhyNothingIsHeard(): string | null {
  return useSyncExternalStore(soundEngine.subscribe, whyNothingIsHeard);
}
