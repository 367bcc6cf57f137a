import { useEffect, useId, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../../audio/engine/sound-engine.ts';
import { roomSeconds } from '../../../../audio/recording/recordings.ts';
import { useObservable } from '../../../live/observable.ts';
import { listen } from '../../../session/listening.ts';
import { beginRecording, recorder, stopRecording } from '../../../session/recorder-session.ts';
import { clockWords } from './length-words.ts';
import { levelWords } from './level-words.ts';

/** Below this the screen says how much still fits. */
const SHORT_OF_ROOM_SECONDS = 1800;

function Progress() {
  const { soFar, phase } = useObservable(recorder);
  if (soFar === null || phase === 'idle') return null;
  const { state, sentence } = levelWords(soFar);
  const seconds = soFar.frames / soFar.sampleRateHz;
  return (
    <>
      <p className="big-reading">
        <output
          data-reading="recordedFrames"
          data-value={soFar.frames}
          data-state={state}
          aria-label="Recorded so far"
        >
          {clockWords(seconds)}
        </output>
        <span className="unit">recorded</span>
      </p>
      <p className={state === 'valid' ? 'small soft' : 'note over'} aria-live="polite">
        {sentence}
      </p>
    </>
  );
}

/** How much still fits, where that is little. */
function Room() {
  const { soFar } = useObservable(recorder);
  const [seconds, setSeconds] = useState<number | null>(null);
  const rateHz = soFar?.sampleRateHz ?? 48_000;
  const channelCount = soFar?.channelCount ?? 2;
  useEffect(() => {
    // Where the browser does not say, nothing is said.
    void roomSeconds({ sampleRateHz: rateHz, channelCount }).then(setSeconds, () => setSeconds(null));
  }, [rateHz, channelCount]);
  if (seconds === null || seconds > SHORT_OF_ROOM_SECONDS) return null;
  return <p className="note over">Room for {clockWords(seconds)} is left on this device.</p>;
}

/** The part's one main action: opens the input if need be, records, stops. */
export function RecordAction({ at }: { at: readonly string[] }) {
  const { phase, fault } = useObservable(recorder);
  const { phase: heard } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const saidId = useId();
  const isOpen = heard === 'running' || heard === 'warming-up';
  const isBusy = phase === 'opening' || phase === 'stopping';
  const press = () => {
    if (phase === 'recording') stopRecording();
    else if (phase === 'idle' && isOpen) void beginRecording(at);
    else if (phase === 'idle') void listen();
  };
  const words =
    phase === 'recording'
      ? 'Stop recording'
      : phase === 'stopping'
        ? 'Closing the file'
        : phase === 'opening'
          ? 'Opening a file'
          : isOpen
            ? 'Record'
            : 'Open the input';
  return (
    <div className="take-action">
      <Progress />
      <button
        type="button"
        className="act main big"
        aria-disabled={isBusy}
        aria-describedby={saidId}
        onClick={press}
      >
        {words}
      </button>
      <p id={saidId} role="status" className={fault === null ? 'small soft' : 'wrong'}>
        {fault ?? ''}
      </p>
      <Room />
    </div>
  );
}
