import { useId, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { tonePlayer } from '../session/tone-player.ts';
import { chosenMaker, isOnRig, playSignal, type Signal, stopSignal } from './signal.ts';

const MAKERS = [
  { value: 'radio', words: 'the radio, from the tone set' },
  { value: 'this-device', words: 'this device’s output' },
] as const;

/**
 * Who plays what a measurement needs. On the practice rig the radio does it by itself, and this says so.
 *
 * @param byHand true where nothing is recorded, so that the hand starts and stops it
 */
export function SignalPanel({
  signal,
  track,
  byHand = false,
}: {
  signal: Signal | null;
  track: string | null;
  byHand?: boolean;
}) {
  const maker = useObservable(chosenMaker);
  const titleId = useId();
  useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  if (isOnRig()) {
    return (
      <p className="small soft">
        Practice: the rig’s radio plays {signal?.description ?? 'nothing'} by itself.
      </p>
    );
  }
  return (
    <section className="sheet" aria-labelledby={titleId}>
      <h2 id={titleId}>What plays</h2>
      <ChoiceField
        label="Played by"
        value={maker}
        choices={MAKERS}
        onChange={(next) => chosenMaker.set(next)}
      />
      {maker === 'radio' ? (
        <p>
          {signal === null ? (
            'Nothing plays: pause the radio, or play the silent track so that it stays awake.'
          ) : (
            <>
              On the radio: play <b>{track ?? signal.description}</b> of the tone set (Plan station)
              {signal.loop ? ' and let it run.' : ' right after pressing the button.'}
            </>
          )}
        </p>
      ) : (
        signal !== null && <FromThisDevice signal={signal} byHand={byHand} />
      )}
    </section>
  );
}

/** To hear it once before it is measured: is anything connected, is it too loud? */
function FromThisDevice({ signal, byHand }: { signal: Signal; byHand: boolean }) {
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
      {!byHand && <p>It plays by itself while it is measured.</p>}
      <button type="button" className="act" aria-pressed={sounding} onClick={press}>
        {sounding ? 'Stop it' : `${byHand ? 'Play' : 'Try'} ${signal.description}`}
      </button>
      {fault !== null && <p className="wrong small">{fault}</p>}
    </>
  );
}
