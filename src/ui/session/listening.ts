/** Which source `Listen` opens, chosen at the Input station and kept while the page lives. */
import type { SourceChoice } from '../../audio/engine/engine-state.ts';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { observable } from '../live/observable.ts';

export const chosenSource = observable<SourceChoice>({ kind: 'device', deviceId: null });

/** Opens the chosen source. Call it in a user's gesture. */
export function listen(): Promise<void> {
  return soundEngine.start(chosenSource.get());
}
