import { useEffect, useMemo, useSyncExternalStore } from 'react';
import type { EngineState } from '../audio/engine/engine-state.ts';
import { soundEngine } from '../audio/engine/sound-engine.ts';
import type { CalibrationStamp, Job } from '../job/document.ts';
import { InputStrip } from './input-strip/InputStrip.tsx';
import { useObservable } from './live/observable.ts';
import type { FigureName } from './outputs/figures.ts';
import { NextStep } from './path/NextStep.tsx';
import { makePlates } from './path/plates.ts';
import { SignalPath } from './path/SignalPath.tsx';
import { STATION_NAMES, type StationId } from './path/stations.ts';
import { go, type Route, route } from './route/route.ts';
import { calibration } from './session/calibration.ts';
import { openConditions } from './session/conditions.ts';
import { jobSession } from './session/job-session.ts';
import { BalanceStation } from './stations/balance/BalanceStation.tsx';
import { CrossoverStation } from './stations/crossover/CrossoverStation.tsx';
import { GainStation } from './stations/gain/GainStation.tsx';
import { NoJob } from './stations/gain/NoJob.tsx';
import { INPUT_FIGURES, InputStation } from './stations/input/InputStation.tsx';
import { PlanStation } from './stations/plan/PlanStation.tsx';
import { QuietStation } from './stations/quiet/QuietStation.tsx';
import { AlteredFile } from './stations/sign-off/AlteredFile.tsx';
import { SignOffStation } from './stations/sign-off/SignOffStation.tsx';
import { SourceStation } from './stations/source/SourceStation.tsx';

/** Figures that a station shows itself, so that each stands on the page once. */
const SHOWN_BY_STATION: Partial<Record<StationId, readonly FigureName[]>> = {
  input: INPUT_FIGURES,
  gain: ['levelVolts'],
};

const NO_SOURCE = 'What a radio should be measured for stands in a job, and there is no job yet.';

function chosenChannel(job: Job, at: Route) {
  return job.channels.find((channel) => channel.id === at.channelId) ?? job.channels[0];
}

function Station({ at, job }: { at: Route; job: Job | null }) {
  const toGain = (channelId: string) => go({ station: 'gain', channelId });
  if (at.station === 'plan') return <PlanStation key={job?.id} job={job} onGain={toGain} />;
  if (at.station === 'input') return <InputStation job={job} />;
  if (at.station === 'gain') {
    const channel = job === null ? undefined : chosenChannel(job, at);
    if (job === null || channel === undefined) return <NoJob />;
    return <GainStation job={job} channel={channel} onChannel={toGain} />;
  }
  if (at.station === 'quiet' && job !== null) {
    const toChannel = (channelId: string) => go({ station: 'quiet', channelId });
    return <QuietStation key={job.id} job={job} channelId={at.channelId} onChannel={toChannel} />;
  }
  if (at.station === 'crossover') {
    const channel = job === null ? undefined : chosenChannel(job, at);
    if (job === null || channel === undefined) {
      return <NoJob station="Crossover" why="No job says yet which filters are wanted." />;
    }
    const toCrossover = (channelId: string) => go({ station: 'crossover', channelId });
    return <CrossoverStation key={job.id} job={job} channel={channel} onChannel={toCrossover} />;
  }
  if (at.station === 'source') {
    return job === null ? (
      <NoJob station="Source" why={NO_SOURCE} />
    ) : (
      <SourceStation key={job.id} job={job} />
    );
  }
  if (at.station === 'balance') {
    return job === null ? (
      <NoJob station="Balance" why="No job says yet which channels should play alike." />
    ) : (
      <BalanceStation key={job.id} job={job} />
    );
  }
  return job === null ? (
    <NoJob station={STATION_NAMES[at.station]} why="There is no job yet that could be looked at." />
  ) : (
    <SignOffStation key={job.id} job={job} />
  );
}

function usePlates(job: Job | null, at: Route, state: EngineState, known: CalibrationStamp | null) {
  return useMemo(() => makePlates({ job, channelId: at.channelId, state, known }), [job, at, state, known]);
}

export function App() {
  const { job, loading, trouble, altered } = useObservable(jobSession);
  const at = useObservable(route);
  const known = useObservable(calibration);
  const state = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const plates = usePlates(job, at, state, known);
  const jobId = job?.id;
  const supplyVolts = job?.supplyVolts ?? null;
  useEffect(() => {
    if (jobId !== undefined) openConditions(jobId, supplyVolts);
  }, [jobId, supplyVolts]);
  useEffect(() => {
    document.title = `${STATION_NAMES[at.station]} · Kneepoint`;
  }, [at]);
  return (
    <>
      <header>
        <button type="button" className="skip" onClick={skipToStation}>
          Skip to the station
        </button>
        <SignalPath
          plates={plates}
          near={at.station}
          onOpen={(station) => go({ station, channelId: station === 'gain' ? at.channelId : null })}
        />
      </header>
      <main id="station" tabIndex={-1}>
        {trouble !== null && (
          <p className="job-trouble wrong" role="alert">
            {trouble}
          </p>
        )}
        {altered !== null && <AlteredFile refusal={altered} />}
        {loading ? (
          <p className="station soft">Opening the jobs of this browser…</p>
        ) : (
          <Station at={at} job={job} />
        )}
        {job !== null && <NextStep job={job} at={at} />}
      </main>
      <InputStrip without={SHOWN_BY_STATION[at.station] ?? []} withListen={at.station !== 'input'} />
    </>
  );
}

/** The address's hash belongs to the stations, so the jump is made by hand. */
function skipToStation(): void {
  document.getElementById('station')?.focus();
}
