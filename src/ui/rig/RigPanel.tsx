import type { JobChannel } from '../../job/document.ts';
import { DEMO_RIG } from '../../rig/demo-rig.ts';
import { ChoiceField, TickField } from '../fields/ChoiceField.tsx';
import { fixed } from '../format/number.ts';
import { toneFrequency, toneLevel } from '../format/tone-frequency.ts';
import { useObservable } from '../live/observable.ts';
import { rigControls, rigTone, setRigControls, setRigTone } from '../session/rig-session.ts';
import './rig.css';

const SIDES = [
  { value: 'left', words: 'left side' },
  { value: 'right', words: 'right side' },
  { value: 'both', words: 'both sides' },
] as const;

function Volume({ onStirred }: { onStirred: () => void }) {
  const { volumeStep } = useObservable(rigControls);
  const { volumeSteps } = DEMO_RIG.radio;
  const turn = (by: number) => {
    setRigControls({ volumeStep: Math.min(volumeSteps, Math.max(0, volumeStep + by)) });
    onStirred();
  };
  return (
    <div className="volume">
      <button type="button" className="act" aria-label="Volume down" onClick={() => turn(-1)}>
        −
      </button>
      <p aria-live="polite">
        Volume step <b>{volumeStep}</b> of {volumeSteps}
      </p>
      <button type="button" className="act" aria-label="Volume up" onClick={() => turn(1)}>
        +
      </button>
    </div>
  );
}

/** The rest of the practice rig: radio, load and supply. The gain control stands beside the aim. */
export function RigPanel({ channel, onStirred }: { channel: JobChannel; onStirred: () => void }) {
  const tone = useObservable(rigTone);
  const controls = useObservable(rigControls);
  const playing = tone.kind === 'sine';
  return (
    <section className="sheet rig" aria-labelledby="rig-title">
      <h2 id="rig-title">Practice rig</h2>
      <Volume onStirred={onStirred} />
      <div className="acts">
        <button
          type="button"
          className="act"
          aria-pressed={playing}
          onClick={() => setRigTone({ kind: playing ? 'silence' : 'sine' })}
        >
          {playing ? 'Stop the radio’s tone' : 'Play the tone on the radio'}
        </button>
      </div>
      {tone.kind !== 'track' && (
        <div className="fields">
          <ChoiceField
            label={`${toneFrequency(tone.frequencyHz)} at ${toneLevel(tone.levelDbfs)} on the`}
            value={tone.channels}
            choices={SIDES}
            onChange={(channels) => {
              setRigTone({ channels });
              onStirred();
            }}
          />
        </div>
      )}
      <TickField
        label={`Speaker of the ${channel.name.toLowerCase()} connected`}
        value={controls.loaded}
        onChange={(loaded) => {
          setRigControls({ loaded });
          onStirred();
        }}
      />
      <label className="field">
        Supply: {fixed(controls.supplyVolts ?? 14.4, 1)} V
        <input
          type="range"
          min={10.5}
          max={15}
          step={0.1}
          value={controls.supplyVolts ?? 14.4}
          onChange={(event) => {
            setRigControls({ supplyVolts: Number(event.target.value) });
            onStirred();
          }}
        />
      </label>
    </section>
  );
}
