import { useEffect, useMemo } from 'react';
import type { Job } from '../../../job/document.ts';
import { sourceTask } from '../../../job/source-tasks.ts';
import type { SourceState } from '../../../procedure/source/source.ts';
import { LineChart } from '../../chart/LineChart.tsx';
import { useObservable } from '../../live/observable.ts';
import { calibration } from '../../session/calibration.ts';
import { conditionsDraft, setConditions } from '../../session/conditions.ts';
import { setRigControls } from '../../session/rig-session.ts';
import { foundStep, sourceSession } from '../../session/source-sessions.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { chosenMaker, signalMaker } from '../../signal/signal.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { PartRecords } from '../parts/PartRecords.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { useTask } from '../parts/use-task.ts';
import { Lacking } from './Lacking.tsx';
import { PartLayout, type PartProps } from './PartLayout.tsx';
import { StepsAction } from './StepsAction.tsx';
import { StepsFigure } from './StepsFigure.tsx';
import { StepsSettings } from './StepsSettings.tsx';
import { StepsTable } from './StepsTable.tsx';
import { recordsOfPart } from './source-parts.ts';
import { toneSignal } from './source-signals.ts';
import { sourceTrackFile } from './source-tracks.ts';
import { sourceRecordWords } from './source-words.ts';
import { stopStepRun } from './step-run.ts';
import { levelView, levelWords, responseView, responseWords } from './steps-views.ts';
import { usePickup } from './use-pickup.ts';

/** The step that was found becomes the one that gains are set at; what a hand noted itself stays. */
function useCleanStep(job: Job, onRig: boolean, state: SourceState | null): void {
  const step = state?.next === null && state.ceiling.settled ? state.ceiling.cleanStep : null;
  useEffect(() => {
    if (step === null) return;
    foundStep.set(step);
    if (onRig) setRigControls({ volumeStep: step });
    else if (conditionsDraft.get().volumeStep === null) {
      setConditions(job.id, { ...conditionsDraft.get(), volumeStep: step });
    }
  }, [job.id, onRig, step]);
}

/** A hand changes the radio's track as seldom as it can; a player of ours changes tones at every step. */
function useOrder(state: SourceState | null): void {
  const maker = useObservable(chosenMaker);
  const order = signalMaker() === 'radio' ? 'by-tone' : 'by-step';
  const now = state?.way.order ?? null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the maker is what `order` follows.
  useEffect(() => {
    const way = sourceSession.state()?.way;
    if (way !== undefined && way.order !== order) sourceSession.hand({ type: 'way', way: { ...way, order } });
  }, [maker, order, now]);
}

function Pictures({ state }: { state: SourceState }) {
  const level = useMemo(() => levelView(state), [state]);
  const response = useMemo(() => responseView(state), [state]);
  return (
    <>
      <LineChart view={level} words={levelWords(state)} />
      <LineChart view={response} words={responseWords(state)} />
    </>
  );
}

/** How far up is the source clean, and what does it do to the bass on the way? */
export function StepsPart({ job, onRig, rig }: PartProps) {
  const { point, side } = usePickup(job);
  const scale = useObservable(calibration);
  const refusal = useTask(sourceSession, () => sourceTask(job, point, side, scale));
  const state = useStation(sourceSession);
  useCleanStep(job, onRig, state);
  useOrder(state);
  useEffect(() => stopStepRun, []);
  if (refusal !== null) return <Lacking job={job} refusal={refusal} />;
  if (state === null) return null;
  const isDone = state.next === null;
  const tone = state.next?.tone ?? 'middle';
  const measure = <StepsAction state={state} onRig={onRig} isMain={!isDone || !state.acceptance.can} />;
  return (
    <PartLayout
      hands={
        <>
          <StepsFigure state={state} onRig={onRig} />
          {!isDone && measure}
          {state.acceptance.can && (
            <AcceptRecord
              jobId={job.id}
              session={sourceSession}
              acceptance={state.acceptance}
              conditions={() => ({
                ...conditionsNow(state.task.voltsPerFs !== null),
                volumeStep: state.ceiling.cleanStep,
              })}
              label={`Accept step ${state.ceiling.cleanStep}`}
              main={isDone}
            />
          )}
          <FindingsList
            findings={state.findings}
            nothing={isDone && state.ceiling.settled ? 'Nothing is wrong with the source.' : null}
          />
          {isDone && measure}
          <SignalPanel
            signal={toneSignal(state.task.tones[tone], side)}
            track={sourceTrackFile(job, tone, side)}
            withTick={false}
          />
          <StationHelp
            does="Walks up the volume with tones in the middle, the bass and the treble, and finds the highest clean step, where the bass goes, and where the level is held back."
            needs="You need the input at the radio’s or the converter’s output, tone controls at their middle, and the gains down."
          />
        </>
      }
      picture={
        <>
          <Pictures state={state} />
          <StepsTable state={state} />
          <PartRecords records={recordsOfPart(job, 'source')} words={sourceRecordWords} />
          <SaveRecording session={sourceSession} />
        </>
      }
      below={
        <>
          <StepsSettings job={job} state={state} />
          {rig}
        </>
      }
    />
  );
}
