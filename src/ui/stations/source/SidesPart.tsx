import { useState } from 'react';
import { fixed } from '../../../job/format/number.ts';
import { dbfs, decibels } from '../../../job/format/quantity.ts';
import { sidesTask } from '../../../job/source-tasks.ts';
import type { Side, SidesState } from '../../../procedure/sides/sides.ts';
import { levelsOf } from '../../../procedure/sides/sides-steps.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { probeAt } from '../../session/rig-session.ts';
import { sidesSession } from '../../session/source-sessions.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { Instruction } from '../parts/Instruction.tsx';
import { PartRecords } from '../parts/PartRecords.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { useTask } from '../parts/use-task.ts';
import { PartLayout, type PartProps } from './PartLayout.tsx';
import { PickupChoice } from './PickupChoice.tsx';
import { RunAction, type RunPlan } from './RunAction.tsx';
import { recordsOfPart } from './source-parts.ts';
import { toneSignal } from './source-signals.ts';
import { sourceTrackFile } from './source-tracks.ts';
import { sidesRecordWords, sidesVerdictWords } from './source-words.ts';
import { usePickup } from './use-pickup.ts';

const INPUTS = [
  { value: 'one-channel', words: 'one channel: the lead is moved' },
  { value: 'two-channel', words: 'two channels: left and right at once' },
] as const;

const SIDES: readonly Side[] = ['left', 'right'];

function face(): OutputFace {
  const state = sidesSession.state();
  if (state === null || state.verdict === null) return { value: null, state: 'not-measured', words: '—' };
  const { separationDb, separationAtLeastDb } = state;
  if (separationDb !== null) return { value: separationDb, state: 'valid', words: fixed(separationDb, 0) };
  if (separationAtLeastDb === null) return { value: null, state: 'not-known', words: '—' };
  return { value: separationAtLeastDb, state: 'at-least', words: `>${Math.floor(separationAtLeastDb)}` };
}

function Heard({ state }: { state: SidesState }) {
  const levels = levelsOf(state.heard);
  const words = (played: Side, at: Side) => {
    if (state.heard[played][at] === null) return '—';
    const level = levels[played][at];
    return level === null ? 'nothing' : dbfs(level);
  };
  return (
    <table>
      <thead>
        <tr>
          <th>Played</th>
          <th className="num">heard on the left</th>
          <th className="num">on the right</th>
        </tr>
      </thead>
      <tbody>
        {SIDES.map((played) => (
          <tr key={played}>
            <td>{played}</td>
            <td className="num">{words(played, 'left')}</td>
            <td className="num">{words(played, 'right')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function plan(onRig: boolean, point: string): RunPlan | null {
  const state = sidesSession.state();
  if (state === null || state.next === null) return null;
  const { played, heardAt } = state.next;
  const { frequencyHz } = state.task.tone;
  if (onRig && heardAt !== 'both') probeAt(`${point}-${heardAt}`);
  return {
    signal: toneSignal(state.task.tone, played),
    purpose: state.next,
    request: heardAt === 'both' ? { kind: 'each-channel', frequencyHz } : { kind: 'tone', frequencyHz },
    seconds: 0.8,
    byHand: `${played} side`,
  };
}

/** Is left left, and right right? */
export function SidesPart({ job, onRig, rig }: PartProps) {
  const { point } = usePickup(job);
  const [input, setInput] = useState<(typeof INPUTS)[number]['value']>('one-channel');
  const refusal = useTask(sidesSession, () => sidesTask(point, onRig ? 'one-channel' : input));
  const state = useStation(sidesSession);
  if (refusal !== null) return <p className="note over">{refusal}</p>;
  if (state === null) return null;
  const { next, verdict, balanceDb } = state;
  const isDone = next === null && verdict !== null;
  return (
    <PartLayout
      hands={
        <>
          <Instruction className="source-do" session={sidesSession}>
            {state.instruction}
          </Instruction>
          <div className="source-figure">
            <BigReading name="separationDb" label="Separation of the sides" unit="dB" read={face} />
            <p className="facts">
              {verdict === null ? 'separation of the sides' : sidesVerdictWords(verdict)}
              {balanceDb !== null && <> · left against right {decibels(balanceDb)}</>}
            </p>
          </div>
          {!isDone && (
            <RunAction
              session={sidesSession}
              label={
                onRig
                  ? 'Listen on both sides'
                  : next?.heardAt === 'both'
                    ? 'Listen'
                    : `Listen on the ${next?.heardAt}`
              }
              why={null}
              next={() => nextWithoutHand(onRig, point, next?.heardAt)}
            />
          )}
          {state.acceptance.can && (
            <AcceptRecord
              jobId={job.id}
              session={sidesSession}
              acceptance={state.acceptance}
              // Somewhere low, which nobody is asked to note.
              conditions={() =>
                onRig ? conditionsNow(false) : { ...conditionsNow(false), volumeStep: null }
              }
              label="Accept the sides"
              main={isDone}
            />
          )}
          <FindingsList
            findings={state.findings}
            nothing={isDone ? 'Left is left, and right is right.' : null}
          />
          <SignalPanel
            signal={toneSignal(state.task.tone, next?.played ?? 'left')}
            track={sourceTrackFile(job, 'middle', next?.played ?? 'left')}
            withTick={false}
          />
          <StationHelp
            does="Plays one side at a time and listens on both, so that swapped, summed and dead sides are found before any gain is set."
            needs="You need the input at the radio’s or the converter’s outputs, one side after the other or both at once."
          />
        </>
      }
      picture={
        <>
          <section className="sheet" aria-labelledby="sides-heard-title">
            <h2 id="sides-heard-title">Heard</h2>
            <Heard state={state} />
            <PickupChoice job={job} withPoint withSide={false} />
            {!onRig && (
              <ChoiceField label="The input has" value={input} choices={INPUTS} onChange={setInput} />
            )}
            <button type="button" className="act plain" onClick={() => sidesSession.restart(state.task)}>
              Begin anew
            </button>
          </section>
          <PartRecords records={recordsOfPart(job, 'sides')} words={sidesRecordWords} />
          <SaveRecording session={sidesSession} />
        </>
      }
      below={rig}
    />
  );
}

/** A lead that a hand has to move ends the run; the rig moves its own. */
function nextWithoutHand(onRig: boolean, point: string, begunAt: string | undefined): RunPlan | null {
  const heardAt = sidesSession.state()?.next?.heardAt;
  return onRig || heardAt === begunAt ? plan(onRig, point) : null;
}
