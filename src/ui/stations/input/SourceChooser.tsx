import { useState } from 'react';
import type { EngineState, SourceChoice } from '../../../audio/engine/engine-state.ts';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { inputName } from '../../input-strip/strip-words.ts';
import { useObservable } from '../../live/observable.ts';
import { go } from '../../route/route.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { chosenSource, listen } from '../../session/listening.ts';
import { GrantedTable } from './GrantedTable.tsx';
import type { InputLead } from './input-lead.ts';

export type SourceKind = SourceChoice['kind'];

const KINDS: readonly { kind: SourceKind; words: string }[] = [
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

function RunningActs({ lead, ready, inVolts }: { lead: InputLead; ready: boolean; inVolts: boolean }) {
  return (
    <div className="acts">
      {lead === 'switch' && (
        <button type="button" className="act main" disabled={!ready} onClick={() => void listen()}>
          Switch to this source
        </button>
      )}
      {lead !== 'switch' && inVolts && (
        <button
          type="button"
          className={lead === 'onwards' ? 'act main' : 'act'}
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

interface Choosing {
  state: EngineState;
  /** What is chosen on screen; a file has yet to be named before it is the chosen source. */
  kind: SourceKind;
  onKind: (kind: SourceKind) => void;
}

function Choices({ state, kind, onKind, listening }: Choosing & { listening: boolean }) {
  const choice = useObservable(chosenSource);
  const choose = (next: SourceKind) => {
    onKind(next);
    if (next === 'device') chosenSource.set({ kind: 'device', deviceId: null });
    if (next === 'rig') chosenSource.set({ kind: 'rig' });
  };
  return (
    <>
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
      {listening && kind !== 'rig' && <InputSide />}
    </>
  );
}

/** Folded away once something is heard; opened by hand it stays, so that the keyboard is not left in a shut drawer. */
function ChoicesFolded(choosing: Choosing) {
  const [open, setOpen] = useState(false);
  const channel = useObservable(inputChannel);
  const { state } = choosing;
  const side = state.source?.kind === 'rig' ? '' : `, ${channel === 0 ? 'left or mono' : 'right'}`;
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <span>
          Source: {inputName(state)}
          {side}
        </span>
      </summary>
      <div className="fold-body">
        <Choices {...choosing} listening />
        <GrantedTable state={state} />
      </div>
    </details>
  );
}

/** Where samples come from, and the button that starts them. */
export function SourceChooser({
  lead,
  inVolts,
  ...choosing
}: Choosing & { lead: InputLead; inVolts: boolean }) {
  const { state, kind } = choosing;
  const ready = useObservable(chosenSource).kind === kind;
  return (
    <section className="column" aria-label="Source of the sound">
      {lead === 'listen' ? (
        <>
          <Choices {...choosing} listening={false} />
          <ListenActs state={state} ready={ready} />
        </>
      ) : (
        <>
          <RunningActs lead={lead} ready={ready} inVolts={inVolts} />
          {/* Another source that was opened folds its choices away anew. */}
          <ChoicesFolded key={inputName(state)} {...choosing} />
        </>
      )}
    </section>
  );
}
