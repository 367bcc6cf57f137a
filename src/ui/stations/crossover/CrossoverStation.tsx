import { useEffect, useMemo } from 'react';
import type { Job, JobChannel } from '../../../job/document.ts';
import type { CrossoverState } from '../../../procedure/crossover/crossover.ts';
import { nextSweep } from '../../../procedure/crossover/next.ts';
import { StepCautionsFolded, StepCautionsGate } from '../../cautions/StepCautions.tsx';
import { LineChart } from '../../chart/LineChart.tsx';
import { useObservable } from '../../live/observable.ts';
import { RigPanel } from '../../rig/RigPanel.tsx';
import { crossoverProgress } from '../../session/crossover-progress.ts';
import {
  beginCrossoverAnew,
  crossoverSession,
  openCrossover,
  sweepTrackFile,
} from '../../session/crossover-session.ts';
import { useWhyNothingIsHeard } from '../../session/hearing.ts';
import { rigFaults, setRigControls, silenceRig } from '../../session/rig-session.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { isOnRig } from '../../signal/signal.ts';
import { ChannelChooser } from '../gain/ChannelChooser.tsx';
import { ConditionsForm } from '../gain/ConditionsForm.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { CrossoverRecords } from './CrossoverRecords.tsx';
import './crossover.css';
import { responsePicture } from './curves.ts';
import { ReferenceSheet } from './ReferenceSheet.tsx';
import { SumList } from './SumList.tsx';
import { SweepHands, sweepSignal } from './SweepHands.tsx';
import { BEFORE_SWEEPING } from './sweep-cautions.ts';

/** In practice the lead moves by itself to where the instruction says, and the filters go off and on. */
function useLead(onRig: boolean, channel: JobChannel, state: CrossoverState | null): void {
  const faults = useObservable(rigFaults);
  const next = state?.next;
  const way = state?.way;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another vehicle's controls stand as they were found.
  useEffect(() => {
    if (!onRig || next === undefined) return;
    const atPlug = next === 'reference' && way === 'input-plug';
    const converter = channel.fedBy === 'right' ? 'converter-right' : 'converter-left';
    setRigControls({
      probe: atPlug ? converter : channel.id,
      muted: [],
      filtersOff: next === 'reference' && way === 'filters-off',
    });
    silenceRig();
    return () => setRigControls({ filtersOff: false });
  }, [onRig, channel.id, channel.fedBy, next, way, faults]);
}

function useCrossover(job: Job, channelId: string): CrossoverState | null {
  useEffect(() => openCrossover(job, channelId), [job, channelId]);
  useEffect(() => () => crossoverSession.close(), []);
  const state = useStation(crossoverSession);
  return state?.channelId === channelId ? state : null;
}

function pictureWords(state: CrossoverState, shown: number): string {
  const measured = state.measured[state.channelId];
  if (measured === undefined) {
    return shown === 0 ? 'Nothing has been swept yet.' : 'This channel has not been swept yet.';
  }
  return 'Each curve with its pass band at 0 dB, the reference divided out.';
}

function Picture({ job, state }: { job: Job; state: CrossoverState }) {
  const view = useMemo(() => responsePicture(job, state), [job, state]);
  return <LineChart view={view} words={pictureWords(state, view.series.length)} />;
}

function Beside({ job, channel, state }: { job: Job; channel: JobChannel; state: CrossoverState }) {
  const onRig = isOnRig();
  const read = useObservable(BEFORE_SWEEPING.read);
  return (
    <>
      <Picture job={job} state={state} />
      <SumList state={state} />
      <ReferenceSheet state={state} />
      {(onRig || read) && (
        <SignalPanel
          signal={sweepSignal(state, channel)}
          track={sweepTrackFile(job, nextSweep(state), channel.fedBy)}
        />
      )}
      {onRig ? (
        <RigPanel
          show={['volume']}
          channels={job.channels}
          onStirred={() => beginCrossoverAnew(job, channel.id)}
        />
      ) : (
        <section className="sheet" aria-labelledby="conditions-title">
          <h2 id="conditions-title">Conditions</h2>
          <ConditionsForm key={job.id} jobId={job.id} />
        </section>
      )}
      <section className="sheet" aria-labelledby="records-title">
        <h2 id="records-title">Accepted on this channel</h2>
        <CrossoverRecords job={job} channel={channel} />
      </section>
      <SaveRecording session={crossoverSession} />
      {(onRig || read) && <StepCautionsFolded step={BEFORE_SWEEPING} onRig={onRig} />}
    </>
  );
}

/** Does each filter sit where it should, and do neighbours add up? */
export function CrossoverStation({
  job,
  channel,
  onChannel,
}: {
  job: Job;
  channel: JobChannel;
  onChannel: (channelId: string) => void;
}) {
  const state = useCrossover(job, channel.id);
  const why = useWhyNothingIsHeard();
  const onRig = isOnRig();
  const read = useObservable(BEFORE_SWEEPING.read);
  useLead(onRig, channel, state);
  const choices = useMemo(
    () => job.channels.map((one) => ({ id: one.id, name: one.name, ...crossoverProgress(job, one) })),
    [job],
  );
  return (
    <div className="station crossover-station">
      <div className="crossover-head">
        <h1>Crossover</h1>
        <ChannelChooser choices={choices} current={channel.id} onChoose={onChannel} />
      </div>
      <div className="hands">
        {!onRig && <StepCautionsGate step={BEFORE_SWEEPING} />}
        {state !== null && (onRig || read) && (
          <SweepHands job={job} channel={channel} state={state} why={why} onChannel={onChannel} />
        )}
        <StationHelp
          does="Sweeps each channel once, finds its filters in the response, and holds corner and slope against the plan."
          needs="You need the input at the amplifier’s input plug for one reference, then at each channel’s terminals through the divider."
        />
      </div>
      <div className="stack">{state !== null && <Beside job={job} channel={channel} state={state} />}</div>
    </div>
  );
}
