import { useEffect } from 'react';
import type { Job } from '../../../job/document.ts';
import { loadTask } from '../../../job/source-tasks.ts';
import type { LoadState, Resistors } from '../../../procedure/load/load.ts';
import { voltsOf } from '../../../procedure/source/ceiling.ts';
import type { SourceToneName } from '../../../procedure/source/source.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { signed } from '../../format/number.ts';
import { dbfs, decibels, volts } from '../../format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { calibration } from '../../session/calibration.ts';
import { rigControls, setRigControls } from '../../session/rig-session.ts';
import { loadSession, pickup } from '../../session/source-sessions.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { PartRecords } from './PartRecords.tsx';
import { PickupChoice } from './PickupChoice.tsx';
import { RunAction } from './RunAction.tsx';
import { resistorsNow } from './resistors-now.ts';
import { recordsOfPart } from './source-parts.ts';
import { toneSignal } from './source-signals.ts';
import { sourceTrackFile } from './source-tracks.ts';
import { loadRecordWords } from './source-words.ts';
import { useTask } from './use-task.ts';

const RESISTORS = [
  { value: 'connected', words: 'connected' },
  { value: 'off', words: 'off' },
] as const;

const TONES = ['middle', 'bass', 'treble'] as const;

function face(): OutputFace {
  const change = loadSession.state()?.change ?? null;
  if (change === null) return { value: null, state: 'not-measured', words: '—' };
  if (change.levelDb === null) return { value: null, state: 'silent', words: 'silent' };
  return { value: change.levelDb, state: 'valid', words: signed(change.levelDb, 1) };
}

/** What hangs on the radio now: on the rig its own control says so, elsewhere the hand. */
function useResistors(onRig: boolean): Resistors {
  const controls = useObservable(rigControls);
  const said = useObservable(resistorsNow);
  if (!onRig) return said;
  return controls.loadResistors === false ? 'off' : 'connected';
}

function Heard({ state }: { state: LoadState }) {
  const { task, heard } = state;
  const cell = (which: Resistors, tone: SourceToneName) => {
    const one = heard[which][tone];
    if (one === null) return '—';
    if (one === 'silent') return 'silent';
    const inVolts = voltsOf(task, one.levelDbfs);
    return inVolts === null ? dbfs(one.levelDbfs) : volts(inVolts);
  };
  return (
    <table>
      <thead>
        <tr>
          <th className="num">Tone</th>
          <th className="num">connected</th>
          <th className="num">off</th>
          <th className="num">change</th>
        </tr>
      </thead>
      <tbody>
        {TONES.map((tone) => {
          const [withLoad, without] = [heard.connected[tone], heard.off[tone]];
          const known =
            withLoad !== null && without !== null && withLoad !== 'silent' && without !== 'silent';
          return (
            <tr key={tone}>
              <td className="num">{task.tones[tone].frequencyHz} Hz</td>
              <td className="num">{cell('connected', tone)}</td>
              <td className="num">{cell('off', tone)}</td>
              <td className="num">{decibels(known ? without.levelDbfs - withLoad.levelDbfs : null)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function nextTone(which: Resistors) {
  const state = loadSession.state();
  const tone = state?.missing[which][0];
  return state === null || tone === undefined ? null : { state, tone };
}

/** Does the radio miss its speakers? */
export function LoadPart({ job, onRig }: { job: Job; onRig: boolean }) {
  const { side } = useObservable(pickup);
  const scale = useObservable(calibration);
  const refusal = useTask(loadSession, () => loadTask(job, side, scale));
  const state = useStation(loadSession);
  const which = useResistors(onRig);
  const step = state?.task.step ?? null;
  useEffect(() => {
    if (onRig && step !== null) setRigControls({ volumeStep: step });
  }, [onRig, step]);
  if (refusal !== null) return <p className="note over">{refusal}</p>;
  if (state === null) return null;
  const tone = state.missing[which][0] ?? 'middle';
  const isDone = state.missing.connected.length + state.missing.off.length === 0;
  return (
    <div className="source-part">
      <div className="source-hands">
        <p className="do source-do" aria-live="polite">
          {state.instruction}
        </p>
        <div className="source-figure">
          <BigReading name="unloadedChangeDb" label="Change without the load" unit="dB" read={face} />
          <p className="facts">without the load resistors, {state.task.tones.middle.frequencyHz} Hz</p>
        </div>
        {!onRig && (
          <ChoiceField
            label="The load resistors are now"
            value={which}
            choices={RESISTORS}
            onChange={(next) => resistorsNow.set(next)}
          />
        )}
        {!isDone && (
          <RunAction
            key={which}
            session={loadSession}
            label={`Measure with the resistors ${which === 'off' ? 'off' : 'connected'}`}
            why={state.missing[which].length === 0 ? whyOther(which) : null}
            next={() => {
              const now = nextTone(which);
              if (now === null) return null;
              const { frequencyHz } = now.state.task.tones[now.tone];
              return {
                signal: toneSignal(now.state.task.tones[now.tone], now.state.task.side),
                purpose: { resistors: which, tone: now.tone },
                request: { kind: 'tone', frequencyHz },
                seconds: 0.8,
                byHand: `${frequencyHz} Hz`,
              };
            }}
          />
        )}
        {state.acceptance.can && (
          <AcceptRecord
            jobId={job.id}
            session={loadSession}
            acceptance={state.acceptance}
            conditions={() => ({
              ...conditionsNow(state.task.voltsPerFs !== null),
              volumeStep: state.task.step,
            })}
            label="Record the load check"
            main={isDone}
          />
        )}
        <FindingsList
          findings={state.findings}
          nothing={isDone ? 'The radio does not mind its load.' : null}
        />
        <StationHelp
          does="Plays the same tones with the load resistors and without them, and shows what the radio changes."
          needs="You need the input at the radio’s speaker output through a divider, and the resistors within reach."
        />
      </div>
      <div className="source-beside">
        <section className="sheet" aria-labelledby="load-heard-title">
          <h2 id="load-heard-title">
            Heard at step {state.task.step}, {state.task.side} side
          </h2>
          <Heard state={state} />
          <PickupChoice job={job} withPoint={false} withSide />
          <button type="button" className="act plain" onClick={() => loadSession.restart(state.task)}>
            Begin anew
          </button>
        </section>
        <SignalPanel
          signal={toneSignal(state.task.tones[tone], side)}
          track={sourceTrackFile(job, tone, side)}
        />
        <PartRecords records={recordsOfPart(job, 'load')} words={loadRecordWords} />
        <SaveRecording session={loadSession} />
      </div>
    </div>
  );
}

function whyOther(which: Resistors): string {
  return which === 'connected'
    ? 'Measured with the resistors connected: take them off first.'
    : 'Measured with the resistors off: connect them first.';
}
