import { useEffect } from 'react';
import { fixed } from '../../../job/format/number.ts';
import { turnOnTask } from '../../../job/source-tasks.ts';
import type { TurnOnPurpose, TurnOnState, TurnOnTask } from '../../../procedure/turn-on/turn-on.ts';
import { turnOnRequest, turnOnSpec } from '../../../procedure/turn-on/turn-on-signal.ts';
import { LineChart } from '../../chart/LineChart.tsx';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { useWhyNothingIsHeard } from '../../session/hearing.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { setRigControls } from '../../session/rig-session.ts';
import { pickup, turnOnSession } from '../../session/source-sessions.ts';
import { useStation } from '../../session/station-session.ts';
import { type TakePlan, takeSeconds } from '../../signal/run-take.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import type { Signal } from '../../signal/signal.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { PartRecords } from '../parts/PartRecords.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { TakeAction } from '../parts/TakeAction.tsx';
import { useTask } from '../parts/use-task.ts';
import { Lacking } from './Lacking.tsx';
import { PartLayout, type PartProps } from './PartLayout.tsx';
import { PickupChoice } from './PickupChoice.tsx';
import { turnOnView, turnOnWords } from './part-views.ts';
import { recordsOfPart } from './source-parts.ts';
import { turnOnTrackFile } from './source-tracks.ts';
import { turnOnRecordWords } from './source-words.ts';

function face(): OutputFace {
  const state = turnOnSession.state();
  const tried = state?.silences.find((one) => one.slept) ?? state?.silences.at(-1);
  if (tried === undefined) return { value: null, state: 'not-measured', words: '—' };
  if (tried.lostSeconds === null) return { value: null, state: 'never-back', words: 'gone' };
  return { value: tried.lostSeconds, state: 'valid', words: fixed(tried.lostSeconds, 2) };
}

function signalFor(task: TurnOnTask, purpose: TurnOnPurpose, side: 'left' | 'right'): Signal {
  const what =
    purpose.try === 'silence'
      ? `${purpose.seconds} s of silence`
      : `${purpose.seconds} s at ${purpose.levelDbfs} dBFS`;
  return { spec: turnOnSpec(task, purpose), channels: side, description: `tone, ${what}, tone`, loop: false };
}

function planFor(state: TurnOnState | null, side: 'left' | 'right'): TakePlan | null {
  if (state === null || state.next === null) return null;
  const { task, next } = state;
  const signal = signalFor(task, next, side);
  return { signal, purpose: next, request: turnOnRequest(task, next, inputChannel.get()), seconds: 0 };
}

function Tries({ state }: { state: TurnOnState }) {
  const { silences, keepAlive, task } = state;
  if (silences.length === 0) return <p className="soft">Nothing tried yet.</p>;
  const lost = (seconds: number | null) =>
    seconds === null ? 'did not come back' : `${fixed(seconds, 2)} s lost`;
  return (
    <ul className="plainlist source-tries">
      {silences.map((one) => (
        <li key={one.seconds}>
          <b>{one.seconds} s of silence:</b>{' '}
          {one.slept ? `asleep, ${lost(one.lostSeconds)}` : 'awake, nothing lost'}
        </li>
      ))}
      {keepAlive.map((one) => (
        <li key={one.levelDbfs}>
          <b>
            {one.seconds} s of {task.keepAliveHz} Hz at {fixed(one.levelDbfs, 0)} dBFS:
          </b>{' '}
          {one.held ? 'held awake' : `not held, ${lost(one.lostSeconds)}`}
          {one.goneAfterSeconds !== null && <>, gone after about {fixed(one.goneAfterSeconds, 0)} s</>}
        </li>
      ))}
    </ul>
  );
}

/** What does the converter's turn-on sensing do in silence? */
export function TurnOnPart({ job, onRig, rig }: PartProps) {
  const { side } = useObservable(pickup);
  const unheard = useWhyNothingIsHeard();
  const refusal = useTask(turnOnSession, () => turnOnTask(job));
  const state = useStation(turnOnSession);
  const step = state?.task.step ?? null;
  useEffect(() => {
    if (onRig && step !== null) setRigControls({ volumeStep: step });
  }, [onRig, step]);
  if (job.converter === null) {
    return (
      <p className="note">No converter stands between radio and amplifier in this job (Plan station).</p>
    );
  }
  if (refusal !== null) return <Lacking job={job} refusal={refusal} />;
  if (state === null) return null;
  const plan = planFor(state, side);
  const isDone = state.next === null;
  return (
    <PartLayout
      hands={
        <>
          <Instruction className="source-do" session={turnOnSession}>
            {state.instruction}
          </Instruction>
          <div className="source-figure">
            <BigReading name="lostSeconds" label="Lost of the start after silence" unit="s" read={face} />
            <p className="facts">
              lost of the start after silence
              {state.holdingDbfs !== null && (
                <>
                  {' '}
                  · held by {state.task.keepAliveHz} Hz at {fixed(state.holdingDbfs, 0)} dBFS
                </>
              )}
            </p>
          </div>
          {!isDone && (
            <TakeAction
              session={turnOnSession}
              label={plan === null ? 'Try' : `Try it, ${Math.ceil(takeSeconds(plan))} s`}
              plan={() => planFor(turnOnSession.state(), side)}
              why={unheard}
            />
          )}
          {state.acceptance.can && (
            <AcceptRecord
              jobId={job.id}
              session={turnOnSession}
              acceptance={state.acceptance}
              conditions={() => ({ ...conditionsNow(false), volumeStep: state.task.step })}
              label="Accept the turn-on check"
              main={isDone}
            />
          )}
          <FindingsList
            findings={state.findings}
            nothing={isDone && state.findings.length === 0 ? 'The converter stays awake.' : null}
          />
          <SignalPanel
            signal={plan?.signal ?? null}
            track={state.next === null ? null : turnOnTrackFile(job, state.next)}
          />
          <StationHelp
            does="Plays a tone, a silence, and the tone again, and finds how much of the start a converter loses that fell asleep; then it looks for the quietest tone that holds it awake."
            needs="You need the input at the converter’s output, and half a minute of quiet for each try."
          />
        </>
      }
      picture={
        <>
          <LineChart view={turnOnView(state)} words={turnOnWords(state)} />
          <section className="sheet" aria-labelledby="turn-on-tries-title">
            <h2 id="turn-on-tries-title">Tried at step {state.task.step}</h2>
            <Tries state={state} />
            {job.converter.turnOn === 'remote-wire' && (
              <p className="small soft">
                The job says that a remote wire switches this converter: then it loses nothing.
              </p>
            )}
            <PickupChoice job={job} withPoint={false} withSide />
            <button type="button" className="act plain" onClick={() => turnOnSession.restart(state.task)}>
              Begin anew
            </button>
          </section>
          <PartRecords records={recordsOfPart(job, 'turn-on')} words={turnOnRecordWords} />
          <SaveRecording session={turnOnSession} />
        </>
      }
      below={rig}
    />
  );
}
