import { ChoiceField, TickField } from '../fields/ChoiceField.tsx';
import { toneFrequency, toneLevel } from '../format/tone-frequency.ts';
import { useObservable } from '../live/observable.ts';
import {
  isOwnTone,
  rigConfig,
  rigControls,
  rigTone,
  setRigControls,
  setRigTone,
} from '../session/rig-session.ts';

interface Stirring {
  onStirred: () => void;
}

const SIDES = [
  { value: 'left', words: 'left side' },
  { value: 'right', words: 'right side' },
  { value: 'both', words: 'both sides' },
] as const;

export function Volume({ onStirred }: Stirring) {
  const { volumeStep } = useObservable(rigControls);
  const { volumeSteps } = useObservable(rigConfig).radio;
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

/** The setting tone on and off, and on which side. */
export function RadioTone({ onStirred }: Stirring) {
  const tone = useObservable(rigTone);
  const playing = tone.kind === 'sine';
  return (
    <>
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
      {isOwnTone(tone) && (
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
    </>
  );
}

export function LoadResistors({ onStirred }: Stirring) {
  const { loadResistors } = useObservable(rigControls);
  return (
    <TickField
      label="Load resistors connected at the radio"
      value={loadResistors ?? true}
      onChange={(connected) => {
        setRigControls({ loadResistors: connected });
        onStirred();
      }}
    />
  );
}
