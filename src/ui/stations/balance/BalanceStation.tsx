import { useEffect } from 'react';
import type { Job } from '../../../job/document.ts';
import { CautionsFolded, CautionsGate } from '../../cautions/Cautions.tsx';
import { cautionsRead } from '../../cautions/confirmed.ts';
import { StepCautionsFolded, StepCautionsGate } from '../../cautions/StepCautions.tsx';
import { useObservable } from '../../live/observable.ts';
import { RigPanel } from '../../rig/RigPanel.tsx';
import { forgetBalance } from '../../session/balance-sessions.ts';
import { useWhyNothingIsHeard } from '../../session/hearing.ts';
import { isOwnTone, rigControls, rigTone, setRigControls, setRigTone } from '../../session/rig-session.ts';
import { isOnRig } from '../../signal/signal.ts';
import { ConditionsForm } from '../gain/ConditionsForm.tsx';
import { keptPart } from '../parts/kept-part.ts';
import './balance.css';
import { IN_THE_CABIN } from './cabin-cautions.ts';
import { LevelPart } from './LevelPart.tsx';
import { PulsesPart } from './PulsesPart.tsx';

type Part = 'wire' | 'microphone' | 'pulses';

const PARTS: readonly { part: Part; words: string }[] = [
  { part: 'wire', words: 'Levels by wire' },
  { part: 'microphone', words: 'Levels by microphone' },
  { part: 'pulses', words: 'Polarity and arrival' },
];

const openPart = keptPart<Part>('balance', ['wire', 'microphone', 'pulses']);

/** Once this station is left, the rig's lead, plugs and radio are as they were. */
function useRigAsBefore(onRig: boolean): void {
  useEffect(() => {
    if (!onRig) return;
    const { probe, muted = [], position = 0 } = rigControls.get();
    const tone = rigTone.get();
    return () => {
      setRigControls({ probe, muted, position });
      if (isOwnTone(tone)) setRigTone(tone);
    };
  }, [onRig]);
}

/** Are levels, polarity and arrival right? */
export function BalanceStation({ job }: { job: Job }) {
  const part = useObservable(openPart);
  const why = useWhyNothingIsHeard();
  const read = useObservable(cautionsRead);
  const cabinRead = useObservable(IN_THE_CABIN.read);
  const onRig = isOnRig();
  useRigAsBefore(onRig);
  const inCabin = part !== 'wire';
  const isReady = onRig || (inCabin ? cabinRead : read);
  return (
    <div className="station balance-station">
      <div className="balance-head stack">
        <h1>Balance</h1>
        <nav className="balance-parts" aria-label="Parts of this station">
          {PARTS.map((one) => (
            <button
              key={one.part}
              type="button"
              className="act"
              aria-pressed={part === one.part}
              onClick={() => openPart.set(one.part)}
            >
              {one.words}
            </button>
          ))}
        </nav>
      </div>
      {!onRig && (inCabin ? <StepCautionsGate step={IN_THE_CABIN} /> : <CautionsGate />)}
      {isReady && part === 'pulses' && <PulsesPart job={job} why={why} />}
      {isReady && part !== 'pulses' && <LevelPart key={part} job={job} way={part} onRig={onRig} why={why} />}
      {onRig ? (
        <RigPanel show={['volume']} channels={job.channels} onStirred={forgetBalance} />
      ) : (
        <section className="sheet" aria-labelledby="conditions-title">
          <h2 id="conditions-title">Conditions</h2>
          <ConditionsForm key={job.id} jobId={job.id} />
        </section>
      )}
      {isReady && inCabin && <StepCautionsFolded step={IN_THE_CABIN} onRig={onRig} />}
      {isReady && !inCabin && (
        <CautionsFolded
          title={onRig ? 'Practice: nothing here can be hurt. In a vehicle, read these first' : 'Cautions'}
        />
      )}
    </div>
  );
}
