import { useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Job } from '../../../job/document.ts';
import { dbfs } from '../../../job/format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import { Announcer } from '../../outputs/Announcer.tsx';
import { LiveOutput } from '../../outputs/LiveOutput.tsx';
import { LiveText } from '../../outputs/LiveText.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { calibration } from '../../session/calibration.ts';
import { heardNow, latestReading, stateOf } from '../../session/heard.ts';
import { checkOf } from '../../session/input-check.ts';
import { inputIdentity } from '../../session/input-identity.ts';
import { chosenSource } from '../../session/listening.ts';
import { soundScaleOfInput } from '../../session/microphone.ts';
import { CalibrationCard } from './CalibrationCard.tsx';
import { Doubts } from './Doubts.tsx';
import { DividerDesigner } from './divider/DividerDesigner.tsx';
import { HonestyCheck } from './HonestyCheck.tsx';
import { InputHead } from './InputHead.tsx';
import { inputLead } from './input-lead.ts';
import './input-station.css';
import { MicrophoneFold } from './microphone/MicrophoneFold.tsx';
import { SoundLevel } from './microphone/SoundLevel.tsx';
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
      <SoundLevel />
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
  const inVolts = useObservable(calibration) !== null;
  const inSoundLevel = useObservable(soundScaleOfInput.known) !== null;
  const choice = useObservable(chosenSource);
  const [kind, setKind] = useState(choice.kind);
  const device = inputIdentity(state);
  const listening = device !== null;
  const onRig = listening && state.source?.kind === 'rig';
  const earlier = checkOf(job, device?.label ?? null);
  const facts = { state, kind, choice, inVolts, inSoundLevel };
  const honest = earlier === null ? null : earlier.result.verdict === 'honest';
  const lead = inputLead({ ...facts, honest, hasJob: job !== null });
  const isCheck = lead === 'check' || lead === 'put-right';
  const calibrationCard = (
    <CalibrationCard
      key="calibration"
      job={job}
      listening={listening}
      onRig={onRig}
      leads={lead === 'calibrate'}
    />
  );
  const check = (
    <HonestyCheck key="honesty" job={job} listening={listening} earlier={earlier} main={isCheck} />
  );
  const [first, second] = isCheck ? [check, calibrationCard] : [calibrationCard, check];
  const heard = (
    <div key="heard" className="column input-heard">
      <SourceChooser state={state} kind={kind} onKind={setKind} lead={lead} inVolts={inVolts} />
      <Doubts />
      <Heard />
    </div>
  );
  return (
    <div className="station snug input-station">
      <InputHead lead={lead} inVolts={inVolts} />
      {/* On a phone what leads stands on the first screen. Keys keep each part as it is when they change places. */}
      {lead === 'calibrate' || isCheck ? [first, heard, second] : [heard, first, second]}
      <MicrophoneFold listening={listening} onRig={onRig} />
      <DividerDesigner job={job} />
    </div>
  );
}
