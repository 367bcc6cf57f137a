import { useState, useSyncExternalStore } from 'react';
import type { Job, JobChannel } from '../../../job/document.ts';
import type { CrossoverState } from '../../../procedure/crossover/crossover.ts';
import { nextIsGuarded, nextRequest, nextSweep } from '../../../procedure/crossover/next.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { cornerFigure, crossoverProgress, tellingSide } from '../../session/crossover-progress.ts';
import { crossoverSession } from '../../session/crossover-session.ts';
import { inputChannel } from '../../session/input-channel.ts';
import type { TakePlan } from '../../signal/run-take.ts';
import type { Signal } from '../../signal/signal.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { TakeAction } from '../parts/TakeAction.tsx';
import { SideList } from './SideList.tsx';
import { errorWords } from './side-words.ts';

const SIDE_WORDS = { left: 'on the left', right: 'on the right', both: 'on both sides' } as const;

/** What the next sweep plays. */
export function sweepSignal(state: CrossoverState, channel: JobChannel): Signal {
  return {
    spec: { kind: 'sweep', ...nextSweep(state) },
    channels: channel.fedBy,
    description: `the sweep ${SIDE_WORDS[channel.fedBy]}`,
    loop: false,
  };
}

function telling() {
  const state = crossoverSession.state();
  const measured = state?.measured[state.channelId];
  return measured === undefined ? null : tellingSide(measured.sides, (side) => side.problems.length > 0);
}

function cornerFace(): OutputFace {
  const side = telling();
  if (side === null) return { value: null, state: 'not-swept', words: '—' };
  const hertz = side.found?.cutoffHz ?? null;
  if (hertz === null)
    return { value: null, state: side.wantedHz === null ? 'open' : 'no-filter', words: 'none' };
  return { value: hertz, state: 'valid', words: cornerFigure(hertz) };
}

function CornerReading({ state }: { state: CrossoverState }) {
  const side = telling();
  const measured = state.measured[state.channelId];
  const error = side?.errorPercent ?? null;
  return (
    <div className="with-facts">
      <BigReading name="cornerHz" label="Corner of the filter" unit="Hz" read={cornerFace} />
      <p className="facts">
        {measured === undefined || side === null ? (
          'No sweep of this channel yet.'
        ) : (
          <>
            {side.kind},{' '}
            <output
              data-reading="cornerErrorPercent"
              data-value={error ?? ''}
              data-state={error === null ? 'not-wanted' : 'valid'}
            >
              {errorWords(error) || 'only reported'}
            </output>
            {error !== null && <> off {side.wantedHz} Hz</>}
          </>
        )}
      </p>
    </div>
  );
}

function Recorded({ job, onChannel }: { job: Job; onChannel: (channelId: string) => void }) {
  const done = (one: JobChannel) => crossoverProgress(job, one).mark === 'done';
  const here = crossoverSession.state()?.channelId;
  const next = job.channels.find((one) => one.id !== here && !done(one));
  return (
    <>
      <p role="status" className="recorded">
        <MarkSign mark="done" /> <b>Recorded.</b>
        {next === undefined && ' The filters of every channel are recorded.'}
      </p>
      {next !== undefined && (
        <button type="button" className="act main big" onClick={() => onChannel(next.id)}>
          Next: {next.name}
        </button>
      )}
    </>
  );
}

function Action({
  job,
  channel,
  state,
  why,
  onChannel,
}: {
  job: Job;
  channel: JobChannel;
  state: CrossoverState;
  why: string | null;
  onChannel: (channelId: string) => void;
}) {
  const [again, setAgain] = useState(false);
  const recorded = useSyncExternalStore(crossoverSession.subscribe, crossoverSession.isAccepted);
  const measured = state.measured[state.channelId];
  const isRight = measured !== undefined && state.findings.length === 0 && state.refused === null;
  const isSweeping = again || !isRight || state.next === 'reference';
  const offersAgain = measured !== undefined && !again && (recorded || !isSweeping);
  const plan = (): TakePlan => {
    const { purpose, request } = nextRequest(state, inputChannel.get());
    return { signal: sweepSignal(state, channel), purpose, request, seconds: 0 };
  };
  const label =
    state.next === 'reference'
      ? 'Take the reference'
      : measured === undefined
        ? 'Sweep it'
        : 'Sweep it again';
  return (
    <>
      {recorded && !again ? (
        <Recorded job={job} onChannel={onChannel} />
      ) : (
        isSweeping && (
          <TakeAction
            session={crossoverSession}
            label={label}
            plan={plan}
            why={why}
            onTaken={() => setAgain(false)}
          />
        )
      )}
      {measured !== undefined && state.next === 'channel' && !recorded && (
        <AcceptRecord
          key={state.channelId}
          jobId={job.id}
          session={crossoverSession}
          acceptance={state.acceptance}
          conditions={() => conditionsNow(false)}
          label={`Accept ${channel.name.toLowerCase()}`}
          main={!isSweeping}
        />
      )}
      {offersAgain && (
        <button type="button" className="act plain" onClick={() => setAgain(true)}>
          Sweep it again
        </button>
      )}
    </>
  );
}

/** Instruction, corner, main action, and what was found. */
export function SweepHands(props: {
  job: Job;
  channel: JobChannel;
  state: CrossoverState;
  why: string | null;
  onChannel: (channelId: string) => void;
}) {
  const { state } = props;
  const measured = state.measured[state.channelId];
  const recorded = useSyncExternalStore(crossoverSession.subscribe, crossoverSession.isAccepted);
  return (
    <>
      <Instruction>
        {recorded
          ? `The ${props.channel.name.toLowerCase()} is recorded: go on with the next channel.`
          : state.instruction}
      </Instruction>
      <CornerReading state={state} />
      {state.next === 'reference' && state.way === 'filters-off' && (
        <p className="note over">
          With its filters off the whole band reaches the driver, and bass destroys a small one: its plug must
          be pulled before the sweep.
        </p>
      )}
      {nextIsGuarded(state) && (
        <p className="note over">
          A small driver: see that its high-pass is on before it is swept. The sweep begins two octaves under
          it, at {nextSweep(state).startHz} Hz, and is softer than the others.
        </p>
      )}
      <Action key={state.channelId} {...props} />
      {measured !== undefined && <SideList measured={measured} />}
      <FindingsList findings={state.findings} nothing={null} />
    </>
  );
}
