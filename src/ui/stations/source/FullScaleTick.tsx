import { useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import { TickField } from '../../fields/ChoiceField.tsx';
import { useObservable } from '../../live/observable.ts';
import { chosenMaker, isOnRig } from '../../signal/signal.ts';

export interface ReadyToPlay {
  /** What is still missing before anything may be played and heard, one sentence; `null` where nothing is. */
  why: string | null;
  isLoudConfirmed: boolean;
  /** Asked only where this device itself is to play tones at full scale. */
  tick: { confirm: (confirmed: boolean) => void } | null;
}

/** The source is measured up to full scale: whether an input listens, and whether that loudness is wanted. */
export function useReadyToPlay(): ReadyToPlay {
  const { phase } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const maker = useObservable(chosenMaker);
  const [loud, setLoud] = useState(false);
  const isListening = phase === 'running' || phase === 'warming-up';
  const asksLoud = !isOnRig() && maker === 'this-device';
  const why = !isListening
    ? 'Press Listen in the strip below first.'
    : asksLoud && !loud
      ? 'Confirm the full-scale tone first.'
      : null;
  return { why, isLoudConfirmed: loud, tick: asksLoud ? { confirm: setLoud } : null };
}

export function FullScaleTick({ ready }: { ready: ReadyToPlay }) {
  if (ready.tick === null) return null;
  return (
    <TickField
      label="I have read the cautions and want full-scale tones from this device"
      value={ready.isLoudConfirmed}
      onChange={ready.tick.confirm}
    />
  );
}
