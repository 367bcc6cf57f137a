import { fixed } from '../../job/format/number.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useObservable } from '../live/observable.ts';
import { rigControls, setRigControls } from '../session/rig-session.ts';

interface Stirring {
  onStirred: () => void;
}

/** A charger holds the supply at what is set; moving it turns the engine off. */
export function SupplyHeld({ onStirred }: Stirring) {
  const controls = useObservable(rigControls);
  const volts = controls.supplyVolts ?? 14.4;
  return (
    <label className="field">
      {controls.engine === undefined ? `Supply: ${fixed(volts, 1)} V` : 'Supply: from the vehicle'}
      <input
        type="range"
        aria-valuetext={`${fixed(volts, 1)} V`}
        min={10.5}
        max={15}
        step={0.1}
        value={volts}
        onChange={(event) => {
          setRigControls({ engine: undefined, supplyVolts: Number(event.target.value) });
          onStirred();
        }}
      />
    </label>
  );
}

const CHARGER = 'charger';
const ENGINES = [
  { value: CHARGER, words: 'off, a charger connected' },
  { value: 'off', words: 'off' },
  { value: 'idle', words: 'idling' },
  { value: 'revved', words: 'revved up' },
] as const;

export function EngineChoice({ onStirred }: Stirring) {
  const { engine } = useObservable(rigControls);
  return (
    <ChoiceField
      label="Engine"
      value={engine ?? CHARGER}
      choices={ENGINES}
      onChange={(chosen) => {
        setRigControls({ engine: chosen === CHARGER ? undefined : chosen });
        onStirred();
      }}
    />
  );
}
