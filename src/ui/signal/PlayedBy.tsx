import { useId, useState, useSyncExternalStore } from 'react';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { tonePlayer, useSilentOnceLeft } from '../session/tone-player.ts';
import { LoudTick } from './LoudTick.tsx';
import { useWhyTooLoud } from './loud-tone.ts';
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
      onChange={(next) => {
        // What this device plays is not the radio's to stop.
        void stopSignal();
        chosenMaker.set(next);
      }}
    />
  );
}

/** One button for this device's own output: it starts the signal and ends it. */
export function FromThisDevice({
  signal,
  play,
  stop,
  withTick = true,
}: {
  signal: Signal;
  play: string;
  stop: string;
  /** False where a loud tone is confirmed elsewhere on the page. */
  withTick?: boolean;
}) {
  const tooLoud = useWhyTooLoud(signal);
  const whyId = useId();
  useSilentOnceLeft();
  const { phase } = useSyncExternalStore(tonePlayer.subscribe, tonePlayer.getState);
  const [fault, setFault] = useState<string | null>(null);
  const sounding = phase !== 'silent';
  const why = sounding ? null : tooLoud;
  const press = () => {
    if (why !== null) return;
    setFault(null);
    (sounding ? stopSignal() : playSignal(signal)).catch((error: unknown) =>
      setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <>
      {withTick && <LoudTick signal={signal} />}
      <button
        type="button"
        className="act"
        aria-pressed={sounding}
        aria-disabled={why !== null}
        aria-describedby={whyId}
        onClick={press}
      >
        {sounding ? stop : play}
      </button>
      <p id={whyId} role="status" className={fault === null ? 'small soft' : 'wrong small'}>
        {fault ?? why}
      </p>
    </>
  );
}
