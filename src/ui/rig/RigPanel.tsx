import { type JSX, useMemo } from 'react';
import type { JobChannel } from '../../job/document.ts';
import { TickField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { rigControls, rigHas, setRigControls } from '../session/rig-session.ts';
import { FaultChooser } from './FaultChooser.tsx';
import { FiltersOff, MicrophonePlace, PluggedIn, ProbeChoice } from './RigPlaces.tsx';
import { LoadResistors, RadioTone, Volume } from './RigRadio.tsx';
import { EngineChoice, SupplyHeld } from './RigSupply.tsx';
import './rig.css';

/** Controls of the practice rig that a station may ask for; they stand on screen in this order. */
const RIG_CONTROL_NAMES = [
  'volume',
  'tone',
  'load-resistors',
  'probe',
  'position',
  'filters',
  'mute',
  'speakers',
  'engine',
  'supply',
] as const;

type RigControlName = (typeof RIG_CONTROL_NAMES)[number];

interface PanelProps {
  show: readonly RigControlName[];
  /** The job's channels; those the rig has are offered. */
  channels: readonly JobChannel[];
  /** Called after anything that changes what the input hears. */
  onStirred?: () => void;
}

function Speakers({ onStirred }: { onStirred: () => void }) {
  const { loaded } = useObservable(rigControls);
  return (
    <TickField
      label="Speakers connected"
      value={loaded}
      onChange={(connected) => {
        setRigControls({ loaded: connected });
        onStirred();
      }}
    />
  );
}

const NOTHING = () => {};

/** The practice rig: what a station's hands may turn there, and which fault to look for. */
export function RigPanel({ show, channels, onStirred = NOTHING }: PanelProps) {
  const known = useMemo(() => channels.filter((channel) => rigHas(channel.id)), [channels]);
  const control: Record<RigControlName, () => JSX.Element> = {
    volume: () => <Volume onStirred={onStirred} />,
    tone: () => <RadioTone onStirred={onStirred} />,
    'load-resistors': () => <LoadResistors onStirred={onStirred} />,
    probe: () => <ProbeChoice channels={known} onStirred={onStirred} />,
    position: () => <MicrophonePlace onStirred={onStirred} />,
    filters: () => <FiltersOff onStirred={onStirred} />,
    mute: () => <PluggedIn channels={known} onStirred={onStirred} />,
    speakers: () => <Speakers onStirred={onStirred} />,
    engine: () => <EngineChoice onStirred={onStirred} />,
    supply: () => <SupplyHeld onStirred={onStirred} />,
  };
  return (
    <section className="sheet rig" aria-labelledby="rig-title">
      <h2 id="rig-title">Practice rig</h2>
      {RIG_CONTROL_NAMES.filter((name) => show.includes(name)).map((name) => (
        <div key={name}>{control[name]()}</div>
      ))}
      <FaultChooser onChanged={onStirred} />
    </section>
  );
}
