import type { JobChannel } from '../../job/document.ts';
import { RIG_POINTS, type RigPoint } from '../../rig/rig.ts';
import { ChoiceField, TickField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { probeAt, rigControls, setRigControls } from '../session/rig-session.ts';

interface Stirring {
  onStirred: () => void;
}

interface OfChannels extends Stirring {
  channels: readonly JobChannel[];
}

const POINT_WORDS: Record<RigPoint, string> = {
  'radio-left': 'radio, left output',
  'radio-right': 'radio, right output',
  'converter-left': 'converter, left output',
  'converter-right': 'converter, right output',
  cabin: 'microphone in the cabin',
};

/** Where the input is connected. */
export function ProbeChoice({ channels, onStirred }: OfChannels) {
  const { probe } = useObservable(rigControls);
  const choices = [
    ...RIG_POINTS.map((point) => ({ value: point as string, words: POINT_WORDS[point] })),
    ...channels.map(({ id, name }) => ({ value: id, words: `amplifier, ${name.toLowerCase()}` })),
  ];
  return (
    <ChoiceField
      label="The input is connected to"
      value={probe}
      choices={choices}
      onChange={(point) => {
        probeAt(point);
        onStirred();
      }}
    />
  );
}

const PLACES = [
  { value: '0', words: 'front left seat' },
  { value: '1', words: 'front right seat' },
  { value: '2', words: 'rear left seat' },
  { value: '3', words: 'rear right seat' },
] as const;

export function MicrophonePlace({ onStirred }: Stirring) {
  const { position } = useObservable(rigControls);
  const value = PLACES[position ?? 0]?.value ?? '0';
  return (
    <ChoiceField
      label="The microphone stands at the"
      value={value}
      choices={PLACES}
      onChange={(place) => {
        setRigControls({ position: Number(place) });
        onStirred();
      }}
    />
  );
}

export function FiltersOff({ onStirred }: Stirring) {
  const { filtersOff } = useObservable(rigControls);
  return (
    <TickField
      label="Amplifier filters bypassed"
      value={filtersOff ?? false}
      onChange={(off) => {
        setRigControls({ filtersOff: off });
        onStirred();
      }}
    />
  );
}

/** One tick for each channel: plugged in, or not. */
export function PluggedIn({ channels, onStirred }: OfChannels) {
  const { muted = [] } = useObservable(rigControls);
  return (
    <fieldset className="plugs">
      <legend>Amplifier inputs plugged in</legend>
      {channels.map(({ id, name }) => (
        <TickField
          key={id}
          label={name}
          value={!muted.includes(id)}
          onChange={(plugged) => {
            const others = muted.filter((one) => one !== id);
            setRigControls({ muted: plugged ? others : [...others, id] });
            onStirred();
          }}
        />
      ))}
    </fieldset>
  );
}
