import { signed } from '../../../job/format/number.ts';
import type { LoadState, Resistors } from '../../../procedure/load/load.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { rigControls } from '../../session/rig-session.ts';
import { loadSession } from '../../session/source-sessions.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { loadPlan } from './load-plan.ts';
import { RunAction } from './RunAction.tsx';
import { resistorsNow } from './resistors-now.ts';

const RESISTORS = [
  { value: 'connected', words: 'connected' },
  { value: 'off', words: 'off' },
] as const;

function face(): OutputFace {
  const change = loadSession.state()?.change ?? null;
  if (change === null) return { value: null, state: 'not-measured', words: '—' };
  if (change.levelDb === null) return { value: null, state: 'silent', words: 'silent' };
  return { value: change.levelDb, state: 'valid', words: signed(change.levelDb, 1) };
}

/** What hangs on the radio now: on the rig its own control says so, elsewhere the hand. */
export function useResistors(onRig: boolean): Resistors {
  const controls = useObservable(rigControls);
  const said = useObservable(resistorsNow);
  if (!onRig) return said;
  return controls.loadResistors === false ? 'off' : 'connected';
}

function whyOther(which: Resistors): string {
  return which === 'connected'
    ? 'Measured with the resistors connected: take them off first.'
    : 'Measured with the resistors off: connect them first.';
}

function Measure({ state, which, onRig }: { state: LoadState; which: Resistors; onRig: boolean }) {
  return (
    <>
      {!onRig && (
        <ChoiceField
          label="The load resistors are now"
          value={which}
          choices={RESISTORS}
          onChange={(next) => resistorsNow.set(next)}
        />
      )}
      <RunAction
        key={which}
        session={loadSession}
        label={`Measure, resistors ${which}`}
        why={state.missing[which].length === 0 ? whyOther(which) : null}
        next={() => loadPlan(which)}
      />
    </>
  );
}

/** What the hands do: measure as it is, change the load, measure again. */
export function LoadHands({ jobId, state, onRig }: { jobId: string; state: LoadState; onRig: boolean }) {
  const which = useResistors(onRig);
  const { task, missing, acceptance, findings } = state;
  const isDone = missing.connected.length + missing.off.length === 0;
  return (
    <>
      <Instruction
        className="source-do"
        session={loadSession}
        recorded="Recorded: connect the load resistors again. What this job asks for next stands at the foot of the page."
      >
        {state.instruction}
      </Instruction>
      <div className="source-figure">
        <BigReading name="unloadedChangeDb" label="Change without the load" unit="dB" read={face} />
        <p className="facts">without the load resistors, {task.tones.middle.frequencyHz} Hz</p>
      </div>
      {!isDone && <Measure state={state} which={which} onRig={onRig} />}
      {acceptance.can && (
        <AcceptRecord
          jobId={jobId}
          session={loadSession}
          acceptance={acceptance}
          conditions={() => ({ ...conditionsNow(task.voltsPerFs !== null), volumeStep: task.step })}
          label="Accept the load check"
          main={isDone}
        />
      )}
      <FindingsList findings={findings} nothing={isDone ? 'The radio does not mind its load.' : null} />
      <StationHelp
        does="Plays the same tones with the load resistors and without them, and shows what the radio changes."
        needs="You need the input at the radio’s speaker output through a divider, and the resistors within reach."
      />
    </>
  );
}
