import { useState } from 'react';
import { RIG_FAULTS, type RigFaultId } from '../../rig/faults.ts';
import { useObservable } from '../live/observable.ts';
import { STATION_NAMES } from '../path/stations.ts';
import { keepRigAddress } from '../route/rig-address.ts';
import { practiseFaults, rigFaults, rigTrouble } from '../session/rig-session.ts';

const NONE = 'none';
const SEVERAL = 'several';
/** Picked by the program: not said until asked for. */
const SECRET = 'secret';

function choose(faults: readonly RigFaultId[]): void {
  practiseFaults(faults);
  rigTrouble.set(null);
  keepRigAddress(faults);
}

function WhatIsWrong({ faults }: { faults: readonly RigFaultId[] }) {
  const wrong = RIG_FAULTS.filter((fault) => faults.includes(fault.id));
  if (wrong.length === 0) return <p className="note">Nothing is wrong with this vehicle.</p>;
  return (
    <ul className="bullets">
      {wrong.map((fault) => (
        <li key={fault.id}>
          {fault.sentence} <span className="soft">{STATION_NAMES[fault.station]} station.</span>
        </li>
      ))}
    </ul>
  );
}

/** Another vehicle with something wrong: named by the user, or picked unseen. */
export function FaultChooser({ onChanged }: { onChanged: () => void }) {
  const faults = useObservable(rigFaults);
  const [isSecret, setSecret] = useState(false);
  const [isTold, setTold] = useState(false);
  const change = (next: readonly RigFaultId[], secret: boolean) => {
    setSecret(secret);
    setTold(false);
    choose(next);
    onChanged();
  };
  const pick = () => {
    const fault = RIG_FAULTS[Math.floor(Math.random() * RIG_FAULTS.length)]!;
    change([fault.id], true);
  };
  const value = isSecret ? SECRET : faults.length > 1 ? SEVERAL : (faults[0] ?? NONE);
  const trouble = useObservable(rigTrouble);
  return (
    <details open={trouble !== null || undefined}>
      <summary>Practice a fault</summary>
      <div className="faults">
        {trouble !== null && (
          <p className="wrong" role="alert">
            {trouble}
          </p>
        )}
        <label className="field">
          What is wrong with the vehicle
          <select
            value={value}
            onChange={(event) => {
              const fault = RIG_FAULTS.find((one) => one.id === event.target.value);
              change(fault === undefined ? [] : [fault.id], false);
            }}
          >
            <option value={NONE}>nothing</option>
            {isSecret && <option value={SECRET}>something: find it</option>}
            {value === SEVERAL && <option value={SEVERAL}>several things</option>}
            {RIG_FAULTS.map((fault) => (
              <option key={fault.id} value={fault.id}>
                {`${STATION_NAMES[fault.station]}: ${fault.title.toLowerCase()}`}
              </option>
            ))}
          </select>
        </label>
        <div className="acts">
          <button type="button" className="act" onClick={pick}>
            Pick one unseen
          </button>
          <button type="button" className="act" aria-expanded={isTold} onClick={() => setTold(!isTold)}>
            {isTold ? 'Hide what is wrong' : 'Say what is wrong'}
          </button>
        </div>
        <div aria-live="polite">{isTold && <WhatIsWrong faults={faults} />}</div>
        <p className="soft small">
          A chosen vehicle stands as it was found: gains, volume and load go back to where they were.
        </p>
      </div>
    </details>
  );
}
