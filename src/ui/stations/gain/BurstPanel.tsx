import { useObservable } from '../../live/observable.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { LiveText } from '../../outputs/LiveText.tsx';
import { gainEvent, gainNow, gainSeconds, useGain } from '../../session/gain-session.ts';
import { burstFault } from '../../session/gain-tone.ts';
import { useFocusHere } from '../parts/focus-here.ts';
import { burstWords, conclusionWords, isConfirmed, phaseWords } from './burst-figures.ts';

function Bursts() {
  useGain((state) => state?.bursts?.bursts.length ?? 0);
  const bursts = gainNow()?.bursts?.bursts ?? [];
  return (
    <ol className="plainlist small bursts" aria-label="Bursts read">
      {bursts.map((burst) => (
        <li key={burst.toneDbfs}>
          <MarkSign mark={burst.verdict === 'clean' ? 'done' : 'out-of-tolerance'} /> {burstWords(burst)}
        </li>
      ))}
    </ol>
  );
}

/** While bursts run: which one, how long the coil still rests, and a way to stop. */
export function BurstPanel() {
  const here = useFocusHere<HTMLElement>();
  const count = useGain((state) => state?.bursts?.tonesDbfs.length ?? 0);
  const index = useGain((state) => state?.bursts?.index ?? 0);
  return (
    <section ref={here} tabIndex={-1} className="sheet burst-panel" aria-label="Bursts at full level">
      <p>
        <b>
          Burst {Math.min(index + 1, count)} of {count}
        </b>
        :{' '}
        <LiveText
          read={() => {
            const state = gainNow();
            return state?.bursts == null ? '' : phaseWords(state.bursts, state.seconds);
          }}
        />
      </p>
      <Bursts />
      <button
        type="button"
        className="act main big"
        onClick={() => gainEvent({ type: 'bursts-stop', seconds: gainSeconds() })}
      >
        Stop the bursts
      </button>
    </section>
  );
}

/** What the bursts of this turn showed, once they are over. */
export function BurstOutcome() {
  const words = useGain((state) => {
    const conclusion = state?.burstConclusion ?? null;
    return conclusion === null ? '' : conclusionWords(conclusion, state?.aim.zone === 'inside');
  });
  const confirmed = useGain((state) => state?.burstConclusion != null && isConfirmed(state.burstConclusion));
  const fault = useObservable(burstFault);
  if (fault !== null) {
    return (
      <p role="alert" className="wrong small">
        {fault}
      </p>
    );
  }
  if (words === '') return null;
  return (
    <div role="status" className="burst-outcome">
      <p>
        <MarkSign mark={confirmed ? 'done' : 'out-of-tolerance'} /> {words}
      </p>
      <Bursts />
    </div>
  );
}
