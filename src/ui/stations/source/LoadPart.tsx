import { useEffect } from 'react';
import { loadTask } from '../../../job/source-tasks.ts';
import { LineChart } from '../../chart/LineChart.tsx';
import { useObservable } from '../../live/observable.ts';
import { calibration } from '../../session/calibration.ts';
import { setRigControls } from '../../session/rig-session.ts';
import { loadSession, pickup } from '../../session/source-sessions.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { PartRecords } from '../parts/PartRecords.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { useTask } from '../parts/use-task.ts';
import { Lacking } from './Lacking.tsx';
import { LoadHands, useResistors } from './LoadHands.tsx';
import { LoadTable } from './LoadTable.tsx';
import { PartLayout, type PartProps } from './PartLayout.tsx';
import { PickupChoice } from './PickupChoice.tsx';
import { loadView, loadWords } from './part-views.ts';
import { recordsOfPart } from './source-parts.ts';
import { toneSignal } from './source-signals.ts';
import { sourceTrackFile } from './source-tracks.ts';
import { loadRecordWords } from './source-words.ts';

/** Does the radio miss its speakers? */
export function LoadPart({ job, onRig, rig }: PartProps) {
  const { side } = useObservable(pickup);
  const scale = useObservable(calibration);
  const refusal = useTask(loadSession, () => loadTask(job, side, scale));
  const state = useStation(loadSession);
  const which = useResistors(onRig);
  const step = state?.task.step ?? null;
  useEffect(() => {
    if (onRig && step !== null) setRigControls({ volumeStep: step });
  }, [onRig, step]);
  if (job.source.pickup === 'line-level') {
    return (
      <p className="note">
        This job takes the signal at line level, so the radio has no load to miss (Plan station).
      </p>
    );
  }
  if (refusal !== null) return <Lacking job={job} refusal={refusal} />;
  if (state === null) return null;
  const { task, missing } = state;
  const tone = missing[which][0] ?? 'middle';
  return (
    <PartLayout
      hands={
        <>
          <LoadHands jobId={job.id} state={state} onRig={onRig} />
          <SignalPanel
            signal={toneSignal(task.tones[tone], side)}
            track={sourceTrackFile(job, tone, side)}
            withTick={false}
          />
        </>
      }
      picture={
        <>
          <LineChart view={loadView(state)} words={loadWords(state)} />
          <section className="sheet" aria-labelledby="load-heard-title">
            <h2 id="load-heard-title">
              Heard at step {task.step}, {task.side} side
            </h2>
            <LoadTable state={state} />
            <PickupChoice job={job} withPoint={false} withSide />
            <button type="button" className="act plain" onClick={() => loadSession.restart(task)}>
              Begin anew
            </button>
          </section>
          <PartRecords records={recordsOfPart(job, 'load')} words={loadRecordWords} />
          <SaveRecording session={loadSession} />
        </>
      }
      below={rig}
    />
  );
}
