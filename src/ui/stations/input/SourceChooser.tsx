import { useState } from 'react';
import type { EngineState, SourceChoice } from '../../../audio/engine/engine-state.ts';
import { isSameSource } from '../../../audio/engine/same-source.ts';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { useObservable } from '../../live/observable.ts';
import { go } from '../../route/route.ts';
import { calibration } from '../../session/calibration.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { chosenSource, listen } from '../../session/listening.ts';

type Kind = SourceChoice['kind'];

const KINDS: readonly { kind: Kind; words: string }[] = [
  { kind: 'device', words: 'Microphone or line input' },
  { kind: 'file', words: 'WAV file' },
  { kind: 'rig', words: 'Practice rig' },
];

function DeviceChoice({ state, choice }: { state: EngineState; choice: SourceChoice & { kind: 'device' } }) {
  const named = state.devices.filter((device) => device.label !== '');
  if (named.length === 0) {
    return (
      <p className="soft small">
        The browser will ask for the microphone; that is also how it calls a line input. Once it has been
        allowed, the devices are listed here by name.
      </p>
    );
  }
  return (
    <ChoiceField
      label="Device"
      value={choice.deviceId ?? ''}
      choices={[
        { value: '', words: 'as the system chooses' },
        ...named.map((device) => ({ value: device.deviceId, words: device.label })),
      ]}
      onChange={(id) => chosenSource.set({ kind: 'device', deviceId: id === '' ? null : id })}
    />
  );
}

function FileChoice({ choice }: { choice: SourceChoice | null }) {
  const chosen = choice?.kind === 'file' ? choice : null;
  return (
    <>
      <label className="field">
        A recording (WAV)
        <input
          type="file"
          accept=".wav,audio/wav,audio/x-wav"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) chosenSource.set({ kind: 'file', file, loop: chosen?.loop ?? true });
          }}
        />
      </label>
      {chosen !== null && (
        <TickField
          label="Play it over and over"
          value={chosen.loop}
          onChange={(loop) => chosenSource.set({ ...chosen, loop })}
        />
      )}
    </>
  );
}

function InputSide() {
  const channel = useObservable(inputChannel);
  return (
    <ChoiceField
      label="Channel of the input"
      value={channel === 0 ? 'left' : 'right'}
      choices={[
        { value: 'left', words: 'left, or mono' },
        { value: 'right', words: 'right' },
      ]}
      onChange={(side) => inputChannel.set(side === 'left' ? 0 : 1)}
    />
  );
}

function isListening(state: EngineState): boolean {
  return state.phase === 'warming-up' || state.phase === 'running' || state.phase === 'paused';
}

/** One main action at a time: switch, where another source is chosen; on to a gain, where a volt is known. */
function RunningActs({
  isOther,
  ready,
  isCalibrated,
  isChecked,
}: {
  isOther: boolean;
  ready: boolean;
  isCalibrated: boolean;
  isChecked: boolean;
}) {
  return (
    <div className="acts">
      {isOther && (
        <button type="button" className="act main" disabled={!ready} onClick={() => void listen()}>
          Switch to this source
        </button>
      )}
      {!isOther && isCalibrated && (
        <button
          type="button"
          className={isChecked ? 'act main' : 'act'}
          onClick={() => go({ station: 'gain', channelId: null })}
        >
          Set a gain
        </button>
      )}
      <button type="button" className="act" onClick={() => soundEngine.stop()}>
        Stop
      </button>
    </div>
  );
}

function ListenActs({ state, ready }: { state: EngineState; ready: boolean }) {
  return (
    <div className="acts">
      <button
        type="button"
        className="act main big"
        disabled={!ready || state.phase === 'asking'}
        onClick={() => void listen()}
      >
        Listen
      </button>
    </div>
  );
}

/** Where samples come from, and the button that starts them. */
export function SourceChooser({ state, isChecked }: { state: EngineState; isChecked: boolean }) {
  const choice = useObservable(chosenSource);
  const known = useObservable(calibration);
  const [kind, setKind] = useState<Kind>(choice.kind);
  const ready = kind === choice.kind;
  const choose = (next: Kind) => {
    setKind(next);
    if (next === 'device') chosenSource.set({ kind: 'device', deviceId: null });
    if (next === 'rig') chosenSource.set({ kind: 'rig' });
  };
  return (
    <section className="column" aria-label="Source of the sound">
      <p className="do">
        {!isListening(state)
          ? 'Choose where the sound comes in, then press Listen.'
          : known === null
            ? 'Calibrate this input, so that its level is worth volts.'
            : isChecked
              ? 'This input knows what a volt is: go on to a gain.'
              : 'This input knows what a volt is: check that it is honest, or go on to a gain.'}
      </p>
      <fieldset className="source-kinds" aria-label="Kind of source">
        {KINDS.map((one) => (
          <label key={one.kind}>
            <input
              type="radio"
              name="source-kind"
              checked={kind === one.kind}
              onChange={() => choose(one.kind)}
            />
            {one.words}
          </label>
        ))}
      </fieldset>
      {kind === 'device' && choice.kind === 'device' && <DeviceChoice state={state} choice={choice} />}
      {kind === 'file' && <FileChoice choice={choice} />}
      {kind === 'rig' && (
        <p className="soft small">
          A simulated radio, converter and amplifiers; nothing is heard and nothing can be hurt.
        </p>
      )}
      {isListening(state) ? (
        <RunningActs
          isOther={!ready || state.source === null || !isSameSource(choice, state.source)}
          ready={ready}
          isCalibrated={known !== null}
          isChecked={isChecked}
        />
      ) : (
        <ListenActs state={state} ready={ready} />
      )}
      {isListening(state) && kind !== 'rig' && <InputSide />}
    </section>
  );
}
