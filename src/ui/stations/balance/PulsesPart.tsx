import { useEffect } from 'react';
import { arrivalTask, polarityTask } from '../../../job/balance/tasks.ts';
import type { Conditions, Job } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { pulseChannel, pulseRequest } from '../../../procedure/pulses/pulse-channel.ts';
import { NumberField } from '../../fields/NumberField.tsx';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import {
  arrivalSession,
  polaritySession,
  pulsesTaking,
  wantedPulses,
} from '../../session/balance-sessions.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { stopTrain, trainSignal } from '../../session/pulse-train.ts';
import { type Kept, useStation } from '../../session/station-session.ts';
import type { TakePlan } from '../../signal/run-take.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { chosenMaker } from '../../signal/signal.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { TakeAction } from '../parts/TakeAction.tsx';
import { useTask } from '../parts/use-task.ts';
import { ArrivalRuler } from './ArrivalRuler.tsx';
import { BalanceRecords } from './BalanceRecords.tsx';
import { arrivalTrack } from './level-signals.ts';

/** Five pulses, whatever the first one's place: enough to take the clock's skew out of them. */
const SECONDS = 5.5;

/** As `speedOfSound` takes it. */
const COLDEST_CELSIUS = -50;
const HOTTEST_CELSIUS = 90;

function face(): OutputFace {
  const worstMs = arrivalSession.state()?.worstMs ?? null;
  if (worstMs === null) return { value: null, state: 'not-measured', words: '—' };
  return { value: worstMs, state: 'valid', words: fixed(worstMs, 2) };
}

function planNow(): TakePlan | null {
  const channelId = wantedPulses();
  const state = polaritySession.state();
  if (channelId === null || state === null) return null;
  const { channels, everySeconds } = state.task;
  const request = pulseRequest(pulseChannel(channels, channelId), everySeconds, inputChannel.get());
  // The train is kept running by the session itself: a signal of its own would begin it anew each time.
  return { signal: null, purpose: { channelId }, request, seconds: SECONDS };
}

/** Two records of one round, or the first sentence of why not. */
async function acceptBoth(jobId: string, conditions: Conditions): Promise<Kept> {
  const polarity = await polaritySession.accept(jobId, conditions);
  return polarity.fault === null ? arrivalSession.accept(jobId, conditions) : polarity;
}

/** One round of recordings, folded by two: polarity's session leads. */
const BOTH = {
  accept: acceptBoth,
  subscribe(listener: () => void) {
    const ends = [polaritySession.subscribe(listener), arrivalSession.subscribe(listener)];
    return () => {
      for (const end of ends) end();
    };
  },
  busy: polaritySession.busy,
  isAccepted: arrivalSession.isAccepted,
};

function useTrainUntilLeft(job: Job, isDone: boolean): void {
  useEffect(() => {
    if (isDone) void stopTrain(job);
  }, [job, isDone]);
  useEffect(() => () => void stopTrain(job), [job]);
}

/** Which way round each driver is, and when each arrives: one train of pulses tells both. */
export function PulsesPart({ job, why }: { job: Job; why: string | null }) {
  const refusedPolarity = useTask(polaritySession, () => polarityTask(job));
  const refusedArrival = useTask(arrivalSession, () => arrivalTask(job));
  const polarity = useStation(polaritySession);
  const arrival = useStation(arrivalSession);
  useObservable(chosenMaker);
  const wanted = arrival?.wanted ?? polarity?.wanted ?? null;
  useTrainUntilLeft(job, polarity !== null && wanted === null);
  const refusal = refusedPolarity ?? refusedArrival;
  if (refusal !== null) return <p className="note over">{refusal}</p>;
  if (polarity === null || arrival === null) return null;
  const { acceptance } = arrival.acceptance.can ? both(polarity.acceptance, arrival.acceptance) : polarity;
  const name = wanted === null ? '' : pulseChannel(polarity.task.channels, wanted).name.toLowerCase();
  return (
    <div className="side-by-side">
      <div className="hands">
        <Instruction session={arrival.acceptance.can ? arrivalSession : polaritySession}>
          {arrival.wanted === null ? polarity.instruction : arrival.instruction}
        </Instruction>
        <div className="with-facts">
          <BigReading name="arrivalMs" label="From the first arrival to the last" unit="ms" read={face} />
          <p className="facts">
            from the first arrival to the last
            {arrival.skewPpm !== null && <> · clocks {fixed(arrival.skewPpm, 1)} ppm apart, taken out</>}
          </p>
        </div>
        {wanted !== null && (
          <TakeAction session={pulsesTaking(job)} label={`Record ${name}`} plan={planNow} why={why} />
        )}
        {polarity.acceptance.can && (
          <AcceptRecord
            jobId={job.id}
            session={arrival.acceptance.can ? BOTH : polaritySession}
            acceptance={acceptance}
            conditions={() => conditionsNow(false)}
            label={arrival.acceptance.can ? 'Accept polarity and arrival' : 'Accept the polarity alone'}
            main={wanted === null}
          />
        )}
        <FindingsList
          findings={[...polarity.findings, ...arrival.findings]}
          nothing={
            polarity.acceptance.can ? 'Every driver is the right way round, as far as it can be told.' : null
          }
        />
        <StationHelp
          does="Lets one channel after the other play a train of pulses, and tells which way round each driver is and by how much to delay the others."
          needs="You need a microphone that stays at one seat, a quiet cabin, and a way to let one channel play alone while the train runs on."
        />
      </div>
      <div className="stack">
        <ArrivalRuler polarity={polarity} arrival={arrival} />
        {isFilterAssumed(job) && (
          <p className="small soft">
            A filter that the Crossover station has not measured is taken as the plan wants it; another one
            would put the arrival out.
          </p>
        )}
        <section className="sheet" aria-label="Air in the cabin">
          <NumberField
            label="Air in the cabin, °C (for centimetres and inches)"
            value={arrival.airCelsius}
            least={COLDEST_CELSIUS}
            most={HOTTEST_CELSIUS}
            onChange={(celsius) => arrivalSession.hand({ type: 'air', celsius })}
          />
        </section>
        <SignalPanel signal={trainSignal(job)} track={arrivalTrack(job)} />
        <BalanceRecords job={job} kinds={['polarity', 'arrival']} />
        <div className="acts">
          <button type="button" className="act plain" onClick={beginAnew}>
            Begin anew
          </button>
        </div>
        {polarity.channels.length > 0 && (
          <div className="fields">
            <fieldset>
              <legend className="small soft">Behind the polarity</legend>
              <SaveRecording session={polaritySession} />
            </fieldset>
            <fieldset>
              <legend className="small soft">Behind the arrivals</legend>
              <SaveRecording session={arrivalSession} />
            </fieldset>
          </div>
        )}
      </div>
    </div>
  );
}

function both(one: Acceptance, other: Acceptance): { acceptance: Acceptance } {
  const why = [one.why, other.why].filter((words) => words !== null).join(' ');
  return {
    acceptance: {
      can: one.can && other.can,
      why: why === '' ? null : why,
      needsSecondThought: one.needsSecondThought || other.needsSecondThought,
    },
  };
}

type Acceptance = NonNullable<ReturnType<typeof polaritySession.state>>['acceptance'];

function isFilterAssumed({ channels, records }: Job): boolean {
  const measured = records.flatMap((one) => (one.kind === 'crossover' ? [one.result.channelId] : []));
  return channels.some((channel) => !measured.includes(channel.id));
}

function beginAnew(): void {
  const polarity = polaritySession.state();
  const arrival = arrivalSession.state();
  if (polarity !== null) polaritySession.restart(polarity.task);
  if (arrival !== null) arrivalSession.restart(arrival.task);
}
