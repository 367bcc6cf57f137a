import { levelTask } from '../../../job/balance/tasks.ts';
import type { Job } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { decibels } from '../../../job/format/quantity.ts';
import type { LevelPurpose, LevelState, LevelTask } from '../../../procedure/level/level.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { levelSession, levelWeighting, seatCount } from '../../session/balance-sessions.ts';
import { calibration } from '../../session/calibration.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { microphone, microphoneInUse } from '../../session/microphone.ts';
import { leadTo, listenTo } from '../../session/rig-hands.ts';
import { useStation } from '../../session/station-session.ts';
import { useWhyTooLoud } from '../../signal/loud-tone.ts';
import type { TakePlan } from '../../signal/run-take.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { TakeAction } from '../parts/TakeAction.tsx';
import { useTask } from '../parts/use-task.ts';
import { BalanceRecords } from './BalanceRecords.tsx';
import { LevelRuler } from './LevelRuler.tsx';
import { levelRequest, levelSignal, levelTrack } from './level-signals.ts';
import { TypedVolts } from './TypedVolts.tsx';

/** A tone is known to a hundredth of a decibel in no time; noise of 1500 Hz needs four seconds for 0.06 dB. */
const SECONDS = { wire: 1.5, microphone: 4 } as const;

const WEIGHTINGS = [
  { value: 'A', words: 'A: as a quiet ear hears' },
  { value: 'C', words: 'C: nearly even' },
  { value: 'Z', words: 'Z: even' },
] as const;

const SEATS = [
  { value: '2', words: 'both front seats' },
  { value: '4', words: 'all four seats' },
] as const;

const HELP = {
  wire: {
    does: 'Compares left with right at the amplifier’s terminals, by one tone, and says which to trim by how much.',
    needs: 'You need the input, or a multimeter, at the terminals of one channel after the other.',
  },
  microphone: {
    does: 'Compares the channels as they are heard, by noise in the band they play, averaged over several seats.',
    needs: 'You need a microphone at head height, a quiet cabin, and a way to let one channel play alone.',
  },
} as const;

function face(): OutputFace {
  const worst = levelSession.state()?.worst ?? null;
  if (worst === null) return { value: null, state: 'not-measured', words: '—' };
  const { differenceDb, inside } = worst;
  return {
    value: differenceDb,
    state: inside ? 'valid' : 'out-of-tolerance',
    words: fixed(Math.abs(differenceDb), 1),
  };
}

function WorstFacts({ state }: { state: LevelState }) {
  const { worst, task } = state;
  if (worst === null) return <p className="facts">left against right: no pair is complete yet</p>;
  const nameOf = (id: string) => task.channels.find((one) => one.channelId === id)?.name ?? id;
  const louder = nameOf(worst.differenceDb >= 0 ? worst.leftId : worst.rightId).toLowerCase();
  return (
    <p className="facts">
      {Math.abs(worst.differenceDb) < 0.05
        ? `${nameOf(worst.leftId)} and its partner are alike`
        : `more at the ${louder}`}{' '}
      · ±{fixed(2 * worst.uncertaintyDb, 2)} dB · allowed {fixed(task.toleranceDb, 1)} dB
    </p>
  );
}

/** What is to be recorded, said on the button. */
function actionLabel(state: LevelState, wanted: LevelPurpose): string {
  if (wanted.what === 'ambient') return 'Hear the cabin itself';
  const name = state.task.channels.find((one) => one.channelId === wanted.channelId)?.name.toLowerCase();
  const place = state.task.places.find((one) => one.placeId === wanted.placeId)?.name;
  return place === undefined ? `Record ${name}` : `Record ${name} at ${place}`;
}

async function moveRigHands(job: Job, state: LevelState, wanted: LevelPurpose): Promise<void> {
  const onto = wanted.what === 'ambient' ? '' : wanted.channelId;
  if (state.task.way === 'wire') return leadTo(onto);
  const placeId = wanted.what === 'ambient' ? null : wanted.placeId;
  const position = Math.max(
    0,
    state.task.places.findIndex((place) => place.placeId === placeId),
  );
  await listenTo(job, onto, position);
}

/** The rig's hands move before the signal begins; elsewhere the user's have. */
function taking(job: Job, onRig: boolean) {
  return {
    subscribe: levelSession.subscribe,
    busy: levelSession.busy,
    fault: levelSession.fault,
    async take(purpose: unknown, request: TakePlan['request'], seconds: number): Promise<boolean> {
      const state = levelSession.state();
      if (onRig && state !== null) await moveRigHands(job, state, purpose as LevelPurpose);
      return levelSession.take(purpose, request, seconds);
    },
  };
}

function planNow(job: Job): TakePlan | null {
  const state = levelSession.state();
  if (state === null || state.wanted === null) return null;
  return {
    signal: levelSignal(job, state, state.wanted),
    purpose: state.wanted,
    request: levelRequest(state, state.wanted, inputChannel.get()),
    seconds: SECONDS[state.task.way],
  };
}

function useLevelTask(job: Job, way: LevelTask['way']): string | null {
  const known = useObservable(calibration);
  const weighting = useObservable(levelWeighting);
  const seats = useObservable(seatCount);
  useObservable(microphone.known);
  return useTask(levelSession, () => {
    const voltsPerFs = way === 'wire' ? (known?.voltsPerFs ?? null) : null;
    const heard = way === 'microphone' ? microphoneInUse() : null;
    const file = heard === null ? {} : { microphone: heard };
    const task = levelTask(job, way, { weighting, voltsPerFs, ...file });
    return { ...task, places: task.places.slice(0, seats) };
  });
}

function Settings({ task }: { task: LevelTask }) {
  const weighting = useObservable(levelWeighting);
  const seats = useObservable(seatCount);
  return (
    <section className="sheet" aria-labelledby="level-settings-title">
      <h2 id="level-settings-title">How it is heard</h2>
      <div className="fields">
        <ChoiceField
          label="Seats"
          value={seats === 2 ? '2' : '4'}
          choices={SEATS}
          onChange={(count) => seatCount.set(count === '2' ? 2 : 4)}
        />
        <ChoiceField
          label="Weighting (IEC 61672-1)"
          value={weighting}
          choices={WEIGHTINGS}
          onChange={(next) => levelWeighting.set(next)}
        />
      </div>
      <p className="small soft">
        {task.microphone === undefined
          ? 'The microphone is taken as it is; the Input station takes its calibration file.'
          : `What ${task.microphone.file} says of the microphone is taken out.`}
      </p>
    </section>
  );
}

/** Left against right, by wire or by microphone. */
export function LevelPart({
  job,
  way,
  onRig,
  why,
}: {
  job: Job;
  way: LevelTask['way'];
  onRig: boolean;
  why: string | null;
}) {
  const refusal = useLevelTask(job, way);
  const state = useStation(levelSession);
  const signal = state === null || state.wanted === null ? null : levelSignal(job, state, state.wanted);
  const tooLoud = useWhyTooLoud(signal);
  if (refusal !== null) return <p className="note over">{refusal}</p>;
  if (state === null || state.task.way !== way) return null;
  const { wanted } = state;
  return (
    <div className="side-by-side">
      <div className="hands">
        <Instruction session={levelSession}>{state.instruction}</Instruction>
        <div className="with-facts">
          <BigReading
            name="balanceDb"
            label="Difference of left and right, worst pair"
            unit="dB"
            read={face}
          />
          <WorstFacts state={state} />
        </div>
        {wanted !== null && (
          <TakeAction
            session={taking(job, onRig)}
            label={actionLabel(state, wanted)}
            plan={() => planNow(job)}
            why={why ?? tooLoud}
          />
        )}
        {(wanted === null || state.acceptance.can) && (
          <AcceptRecord
            jobId={job.id}
            session={levelSession}
            acceptance={state.acceptance}
            conditions={() => conditionsNow(way === 'wire')}
            label="Accept the levels"
            main={wanted === null}
          />
        )}
        <FindingsList
          findings={state.findings}
          nothing={
            wanted === null
              ? `Left and right are within ${decibels(state.task.toleranceDb).replace('+', '')}.`
              : null
          }
        />
        <StationHelp {...HELP[way]} />
      </div>
      <div className="stack">
        <LevelRuler state={state} />
        {way === 'microphone' && <Settings task={state.task} />}
        {way === 'wire' && !onRig && <TypedVolts state={state} />}
        <SignalPanel signal={signal} track={wanted === null ? null : levelTrack(job, way, wanted)} />
        <BalanceRecords job={job} kinds={['level']} />
        <div className="acts">
          <button type="button" className="act plain" onClick={() => levelSession.restart(state.task)}>
            Begin anew
          </button>
          <SaveRecording session={levelSession} />
        </div>
      </div>
    </div>
  );
}
