import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../../audio/engine/sound-engine.ts';
import type { Job } from '../../../../job/document.ts';
import { instructionTo } from '../../../../procedure/noise/instruction.ts';
import type { NoisePurpose, NoiseState } from '../../../../procedure/noise/noise.ts';
import { CautionsGate } from '../../../cautions/Cautions.tsx';
import { cautionsRead } from '../../../cautions/confirmed.ts';
import { StepCautionsFolded, StepCautionsGate } from '../../../cautions/StepCautions.tsx';
import { LineChart } from '../../../chart/LineChart.tsx';
import { useObservable } from '../../../live/observable.ts';
import { RigPanel } from '../../../rig/RigPanel.tsx';
import { calibration } from '../../../session/calibration.ts';
import { useWhyNothingIsHeard } from '../../../session/hearing.ts';
import { inputChannel } from '../../../session/input-channel.ts';
import { noiseProgress, noiseRecordsOf } from '../../../session/noise-progress.ts';
import { beginNoiseAnew, noiseSession, openNoise } from '../../../session/noise-session.ts';
import { useStation } from '../../../session/station-session.ts';
import type { TakePlan } from '../../../signal/run-take.ts';
import { SignalPanel } from '../../../signal/SignalPanel.tsx';
import { isOnRig } from '../../../signal/signal.ts';
import { ChannelChooser } from '../../gain/ChannelChooser.tsx';
import { ConditionsForm } from '../../gain/ConditionsForm.tsx';
import { AcceptRecord } from '../../parts/AcceptRecord.tsx';
import { conditionsNow } from '../../parts/conditions-now.ts';
import { FindingsList } from '../../parts/FindingsList.tsx';
import { Instruction } from '../../parts/Instruction.tsx';
import { SaveRecording } from '../../parts/SaveRecording.tsx';
import { StationHelp } from '../../parts/StationHelp.tsx';
import { TakeAction } from '../../parts/TakeAction.tsx';
import { EngineStates } from './EngineStates.tsx';
import { BEFORE_ENGINE } from './engine-cautions.ts';
import { NoiseFigure } from './NoiseFigure.tsx';
import { NoiseRecords } from './NoiseRecords.tsx';
import './noise.css';
import { noiseView, noiseViewWords } from './noise-view.ts';
import { actionWords } from './purpose-words.ts';
import { RevCounter } from './RevCounter.tsx';
import { RiseTable } from './RiseTable.tsx';
import { useRigHand } from './use-rig-hand.ts';

/** The microphone in the cabin, as a choice beside the channels. */
const CABIN = 'cabin';
const RIG_CONTROLS = ['volume'] as const;
const CABIN_RIG_CONTROLS = ['volume', 'position'] as const;

/** Long enough for a floor within half a decibel in the lowest octave, and to hold an engine steady. */
const SECONDS = 6;

function planFor(purpose: NoisePurpose): TakePlan {
  return {
    signal: null,
    purpose,
    request: { kind: 'noise', channelIndex: inputChannel.get() },
    seconds: SECONDS,
  };
}

/** The record holds three engine states: the one of the moment says nothing. */
function conditions(byWire: boolean) {
  return { ...conditionsNow(byWire), engineRunning: null };
}

function Recording({
  job,
  state,
  onRig,
  again,
  onAgain,
}: {
  job: Job;
  state: NoiseState;
  onRig: boolean;
  /** What was chosen to be taken out of turn; `null` takes what is wanted next. */
  again: NoisePurpose | null;
  onAgain: (purpose: NoisePurpose | null) => void;
}) {
  const at = again ?? state.wanted;
  const readEngine = useObservable(BEFORE_ENGINE.read);
  const read = useObservable(cautionsRead);
  const why = useWhyNothingIsHeard();
  const needsLead = !onRig && !read && state.task.place === 'terminals';
  const needsEngine = !onRig && !readEngine && at !== null && at.engine !== 'off';
  const isGated = needsLead || needsEngine;
  return (
    <>
      <Instruction session={noiseSession}>
        {again === null ? state.instruction : instructionTo(again)}
      </Instruction>
      <NoiseFigure state={state} />
      <EngineStates state={state} at={at} onChoose={onAgain} />
      {needsLead && <CautionsGate title="Before the lead goes on" />}
      {!needsLead && needsEngine && <StepCautionsGate step={BEFORE_ENGINE} />}
      {at !== null && !isGated && (
        <TakeAction
          session={noiseSession}
          label={actionWords(at)}
          plan={() => planFor(at)}
          why={why}
          onTaken={(taken) => taken && onAgain(null)}
        />
      )}
      <AcceptRecord
        jobId={job.id}
        session={noiseSession}
        acceptance={state.acceptance}
        conditions={() => conditions(state.task.place === 'terminals')}
        label="Accept what was measured"
        main={at === null}
      />
      <FindingsList
        findings={state.findings}
        nothing={state.wanted === null ? 'No whine, no hum, no clicks stand out of the floor.' : null}
      />
    </>
  );
}

function Picture({ state }: { state: NoiseState }) {
  const view = useMemo(() => noiseView(state), [state]);
  if (view === null) {
    return <p className="sheet soft">The spectra of the three states will lie over each other here.</p>;
  }
  return <LineChart view={view} words={noiseViewWords(state)} />;
}

function Beside({
  job,
  state,
  channelId,
  onRig,
}: {
  job: Job;
  state: NoiseState;
  channelId: string | null;
  onRig: boolean;
}) {
  const read = useObservable(BEFORE_ENGINE.read);
  return (
    <div className="stack">
      <Picture state={state} />
      <RiseTable state={state} />
      <RevCounter rpm={state.rpm} />
      {onRig ? (
        <>
          <p className="small soft">Practice: source, engine and lead follow what is to be recorded.</p>
          <RigPanel show={channelId === null ? CABIN_RIG_CONTROLS : RIG_CONTROLS} channels={job.channels} />
        </>
      ) : (
        <>
          <SignalPanel signal={null} track={null} />
          <section className="sheet" aria-labelledby="noise-conditions-title">
            <h3 id="noise-conditions-title">Conditions</h3>
            <ConditionsForm key={job.id} jobId={job.id} />
          </section>
        </>
      )}
      <section className="sheet" aria-labelledby="noise-records-title">
        <h3 id="noise-records-title">Accepted here</h3>
        <NoiseRecords job={job} records={noiseRecordsOf(job, channelId)} />
        <div className="acts">
          <SaveRecording session={noiseSession} />
          <button type="button" className="act plain" onClick={beginNoiseAnew}>
            Begin anew
          </button>
        </div>
      </section>
      {(onRig || read) && <StepCautionsFolded step={BEFORE_ENGINE} onRig={onRig} />}
    </div>
  );
}

function useNoise(job: Job, channelId: string | null): string | null {
  const known = useObservable(calibration);
  const [refusal, setRefusal] = useState<string | null>(null);
  useEffect(() => setRefusal(openNoise(job, channelId, known)), [job, channelId, known]);
  useEffect(() => () => noiseSession.close(), []);
  return refusal;
}

/** How quiet is it, and what of the noise is the engine's or the mains'? One of the two parts of the Quiet station. */
export function NoisePart({
  job,
  channelId: chosen,
  onChannel,
}: {
  job: Job;
  channelId: string | null;
  onChannel: (channelId: string) => void;
}) {
  const known = job.channels.find(({ id }) => id === chosen) ?? job.channels[0]!;
  const channelId = chosen === CABIN ? null : known.id;
  const refusal = useNoise(job, channelId);
  const state = useStation(noiseSession);
  const [chosenNow, setChosenNow] = useState<{ channelId: string | null; purpose: NoisePurpose } | null>(
    null,
  );
  // What was chosen at one channel says nothing of the next.
  const again = chosenNow !== null && chosenNow.channelId === channelId ? chosenNow.purpose : null;
  useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const onRig = isOnRig();
  const at = again ?? state?.wanted ?? null;
  useRigHand(onRig, channelId, at);
  const choices = useMemo(
    () => [
      ...job.channels.map(({ id, name }) => ({ id, name, ...noiseProgress(job, id) })),
      { id: CABIN, name: 'Microphone', ...noiseProgress(job, null) },
    ],
    [job],
  );
  return (
    <section className="noise-part stack" aria-labelledby="noise-title">
      <h2 id="noise-title" className="unseen">
        Noise
      </h2>
      <ChannelChooser choices={choices} current={channelId ?? CABIN} onChoose={onChannel} />
      <StationHelp
        does="Measures the noise with the source paused and the engine off, idling and revved, and tells engine whine from mains hum."
        needs="You need the input on a channel’s terminals through the divider (or a microphone at the seat), gains that are set, and open air to run the engine in."
      />
      {refusal !== null && <p className="note over">{refusal}</p>}
      {refusal === null && state !== null && state.task.channelId === channelId && (
        <div className="side-by-side">
          <div className="hands">
            <Recording
              job={job}
              state={state}
              onRig={onRig}
              again={again}
              onAgain={(purpose) => setChosenNow(purpose === null ? null : { channelId, purpose })}
            />
          </div>
          <Beside job={job} state={state} channelId={channelId} onRig={onRig} />
        </div>
      )}
    </section>
  );
}
