import { useId, useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { useObservable } from '../live/observable.ts';
import { FromThisDevice, PlayedBy } from './PlayedBy.tsx';
import { chosenMaker, isOnRig, type Signal } from './signal.ts';

/**
 * Who plays what a measurement needs. On the practice rig the radio does it by itself, and this says so.
 *
 * @param byHand true where nothing is recorded, so that the hand starts and stops it
 * @param withTick false where a loud tone is confirmed elsewhere on the page
 */
export function SignalPanel({
  signal,
  track,
  byHand = false,
  withTick = true,
}: {
  signal: Signal | null;
  track: string | null;
  byHand?: boolean;
  withTick?: boolean;
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
      <PlayedBy />
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
        signal !== null && (
          <>
            {!byHand && <p>It plays by itself while it is measured.</p>}
            {/* To hear it once before it is measured: is anything connected, is it too loud? */}
            <FromThisDevice
              signal={signal}
              play={`${byHand ? 'Play' : 'Try'} ${signal.description}`}
              stop="Stop it"
              withTick={withTick}
            />
          </>
        )
      )}
    </section>
  );
}
