import { useSyncExternalStore } from 'react';
import { latestReading, onHeard } from '../../../session/heard.ts';

function heardChannels(): number | null {
  return latestReading()?.channels.length ?? null;
}

/** How many channels the open input has; `null` while nothing is heard. */
export function useInputChannels(): number | null {
  return useSyncExternalStore(onHeard, heardChannels);
}
