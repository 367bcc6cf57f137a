import { useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Job } from '../../../job/document.ts';
import { dbfs } from '../../format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import { Announcer } from '../../outputs/Announcer.tsx';
import { LiveOutput } from '../../outputs/LiveOutput.tsx';
import { LiveText } from '../../outputs/LiveText.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { calibration } from '../../session/calibration.ts';
import { heardNow, latestReading, stateOf } from '../../session/heard.ts';
import { checkOf } from '../../session/input-check.ts';
import { inputIdentity } from '../../session/input-identity.ts';
import { CalibrationCard } from './CalibrationCard.tsx';
import { Doubts } from './Doubts.tsx';
import { DividerDesigner } from './divider/DividerDesigner.tsx';
import { GrantedTable } from './GrantedTable.tsx';
import { HonestyCheck } from './HonestyCheck.tsx';
import './input-station.css';
import { SourceChooser } from './SourceChooser.tsx';

/** Figures that this station shows itself; the strip leaves them out. */
export const INPUT_FIGURES = ['levelDbfs', 'levelVolts', 'frequencyHz', 'noiseDbfs', 'thdPercent'] as const;

function readLevel() {
  const heard = heardNow();
  const value = heard?.channel.levelDbfs ?? null;
  return {
    value,
    state: stateOf(heard, value === null, () => 'digital-silence'),
    words: dbfs(value).replace(' dBFS', ''),
  };
}

function levelFacts(): string {
  const heard = heardNow();
  if (heard === null) return 'Nothing is heard yet.';
  const tone = heard.channel.tone === null ? 'No steady tone stands out.' : 'A steady tone stands out.';
  // One wire twice looks like two channels, and a choice between them then means nothing.
  const isOneTwice = latestReading()?.channelIdentity === 'dual-mono';
  return isOneTwice ? `${tone} Both channels carry the very same signal: this input is mono.` : tone;
}

function Heard() {
  return (
    <section aria-labelledby="heard-title" className="heard">
      <h2 id="heard-title">What is heard</h2>
      <BigReading name="levelDbfs" label="Level" unit="dBFS" read={readLevel} />
      <p className="facts">
        <LiveOutput name="frequencyHz" /> · <LiveOutput name="levelVolts" /> · THD{' '}
        <LiveOutput name="thdPercent" /> · noise <LiveOutput name="noiseDbfs" />
      </p>
      <p className="soft">
        <LiveText read={levelFacts} />
      </p>
      <Announcer read={levelFacts} />
    </section>
  );
}

/** Can this input be trusted, and what is one volt on it? */
export function InputStation({ job }: { job: Job | null }) {
  const state = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const known = useObservable(calibration);
  const device = inputIdentity(state);
  const earlier = checkOf(job, device?.label ?? null);
  const leads = device !== null && known !== null && earlier === null && job !== null;
  return (
    <div className="station input-station">
      <div className="column">
        <h1>Input</h1>
        <SourceChooser state={state} isChecked={!leads} />
        <Doubts />
        <Heard />
        <GrantedTable state={state} />
      </div>
      <div className="column">
        <CalibrationCard state={state} />
        <HonestyCheck job={job} listening={device !== null} earlier={earlier} main={leads} />
        <DividerDesigner job={job} />
      </div>
    </div>
  );
}
