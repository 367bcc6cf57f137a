import { useState, useSyncExternalStore } from 'react';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { tonePlayer } from '../session/tone-player.ts';
import { chosenMaker, playSignal, type Signal, stopSignal } from './signal.ts';

const MAKERS = [
  { value: 'radio', words: 'the radio, from the tone set' },
  { value: 'this-device', words: 'this device’s output' },
] as const;

/** Who plays, away from the practice rig. */
export function PlayedBy() {
  const maker = useObservable(chosenMaker);
  return (
    <ChoiceField
      label="Played by"
      value={maker}
      choices={MAKERS}
      onChange={(next) => chosenMaker.set(next)}
    />
  );
}

/** One button for this device's own output: it starts the signal and ends it. */
export function FromThisDevice({ signal, play, stop }: { signal: Signal; play: string; stop: string }) {
  const { phase } = useSyncExternalStore(tonePlayer.subscribe, tonePlayer.getState);
  const [fault, setFault] = useState<string | null>(null);
  const sounding = phase !== 'silent';
  const press = () => {
    setFault(null);
    (sounding ? stopSignal() : playSignal(signal)).catch((error: unknown) =>
      setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <>
      <button type="button" className="act" aria-pressed={sounding} onClick={press}>
        {sounding ? stop : play}
      </button>
      {fault !== null && <p className="wrong small">{fault}</p>}
    </>
  );
}
