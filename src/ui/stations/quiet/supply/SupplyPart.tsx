import { useEffect, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../../audio/engine/sound-engine.ts';
import type { Job, JobAmplifier } from '../../../../job/document.ts';
import { significant } from '../../../../job/format/number.ts';
import { instructionAt } from '../../../../procedure/supply/instruction.ts';
import type { SupplyState, SupplyStep } from '../../../../procedure/supply/supply.ts';
import { StepCautionsFolded, StepCautionsGate } from '../../../cautions/StepCautions.tsx';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';
import { useObservable } from '../../../live/observable.ts';
import type { OutputFace } from '../../../outputs/LiveOutput.tsx';
import { BigReading } from '../../../reading/BigReading.tsx';
import { RigPanel } from '../../../rig/RigPanel.tsx';
import { useStation } from '../../../session/station-session.ts';
import { beginSupplyAnew, openSupply, supplySession } from '../../../session/supply-session.ts';
import { chosenMaker, isOnRig, signalMaker } from '../../../signal/signal.ts';
import { ConditionsForm } from '../../gain/ConditionsForm.tsx';
import { AcceptRecord } from '../../parts/AcceptRecord.tsx';
import { conditionsNow } from '../../parts/conditions-now.ts';
import { FindingsList } from '../../parts/FindingsList.tsx';
import { Instruction } from '../../parts/Instruction.tsx';
import { StationHelp } from '../../parts/StationHelp.tsx';
import { LegTable } from './LegTable.tsx';
import { MeterSheet } from './MeterSheet.tsx';
import { ProbePicture } from './ProbePicture.tsx';
import { StepList } from './StepList.tsx';
import './supply.css';
import { SupplyHands } from './SupplyHands.tsx';
import { SupplyRecords } from './SupplyRecords.tsx';
import { plannedWatts, SupplyTone, supplySignal } from './SupplyTone.tsx';
import { BEFORE_PROBES } from './supply-cautions.ts';

const ONLY_RIG_CONTROLS = ['volume', 'speakers', 'engine', 'supply'] as const;

function groundFace(): OutputFace {
  const ground = supplySession.state()?.figures.legs.ground ?? null;
  if (ground === null) return { value: null, state: 'not-read', words: '—' };
  const milliohms = Math.max(0, ground.ohms.value) * 1000;
  const state = ground.verdict === 'cannot-tell' ? 'cannot-tell' : 'valid';
  return { value: milliohms, state, words: significant(milliohms, 2) };
}

/** A reading is accepted under what was noted; it was taken with a multimeter, not with the input. */
function conditions() {
  return { ...conditionsNow(false), input: isOnRig() ? 'Practice multimeter' : 'Multimeter' };
}

function Measuring({ job, amplifier, state }: { job: Job; amplifier: JobAmplifier; state: SupplyState }) {
  const [again, setAgain] = useState<SupplyStep | null>(null);
  const step = again ?? state.next;
  useObservable(chosenMaker);
  const signal = supplySignal(job, amplifier.id, signalMaker());
  const onRig = isOnRig();
  const isDone = step === 'done';
  return (
    <>
      <Instruction session={supplySession}>
        {again === null || again === 'done' ? state.instruction : instructionAt(again)}
      </Instruction>
      <div className="supply-now side-by-side">
        <div className="stack">
          {!isDone && <ProbePicture step={step} />}
          {!isDone && (
            <SupplyHands
              key={step}
              usualWatts={plannedWatts(job, amplifier.id, signal)}
              step={step}
              signal={signal}
              onRead={() => setAgain(null)}
            />
          )}
          <BigReading
            name="groundMilliohms"
            label="Resistance of the ground leg"
            unit="mΩ"
            read={groundFace}
          />
          <LegTable legs={state.figures.legs} />
          <FindingsList findings={state.findings} nothing={null} />
          <AcceptRecord
            jobId={job.id}
            session={supplySession}
            acceptance={state.acceptance}
            conditions={conditions}
            label="Accept these readings"
            main={isDone}
          />
        </div>
        <div className="stack">
          <StepList state={state} at={step} onStep={setAgain} />
          {signal !== null && !onRig && <SupplyTone signal={signal} />}
          {signal === null && <p className="note">This amplifier has no channel, so nothing can load it.</p>}
          <MeterSheet meter={state.meter} />
          <button
            type="button"
            className="act plain"
            onClick={() => {
              setAgain(null);
              beginSupplyAnew(job, amplifier.id);
            }}
          >
            Begin anew
          </button>
        </div>
      </div>
    </>
  );
}

function useSupply(job: Job, amplifierId: string): string | null {
  const [refusal, setRefusal] = useState<string | null>(null);
  useEffect(() => setRefusal(openSupply(job, amplifierId)), [job, amplifierId]);
  useEffect(() => () => supplySession.close(), []);
  return refusal;
}

/** Do supply and ground hold up under load? One of the two parts of the Quiet station. */
export function SupplyPart({ job }: { job: Job }) {
  const [chosen, setChosen] = useState<string | null>(null);
  const amplifier = job.amplifiers.find((one) => one.id === chosen) ?? job.amplifiers[0]!;
  const refusal = useSupply(job, amplifier.id);
  const state = useStation(supplySession);
  useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const onRig = isOnRig();
  const read = useObservable(BEFORE_PROBES.read);
  return (
    <section className="supply-part stack" aria-labelledby="supply-title">
      <h2 id="supply-title" className="unseen">
        Supply and ground
      </h2>
      <StationHelp
        does="Finds the resistance of each leg between battery and amplifier from a multimeter’s readings, and tells a poor joint from a long wire."
        needs="You need a multimeter on DC volts, a long test lead, if possible a DC clamp, and gains that are set."
      />
      <ChoiceField
        label="Amplifier"
        value={amplifier.id}
        choices={job.amplifiers.map((one) => ({ value: one.id, words: one.name }))}
        onChange={setChosen}
      />
      {!onRig && <StepCautionsGate step={BEFORE_PROBES} />}
      {refusal !== null && <p className="note over">{refusal}</p>}
      {refusal === null && (onRig || read) && state?.task.amplifierId === amplifier.id && (
        <Measuring key={amplifier.id} job={job} amplifier={amplifier} state={state} />
      )}
      {onRig ? (
        <RigPanel show={ONLY_RIG_CONTROLS} channels={job.channels} />
      ) : (
        <section className="sheet" aria-labelledby="supply-conditions-title">
          <h2 id="supply-conditions-title">Conditions</h2>
          <ConditionsForm key={job.id} jobId={job.id} />
        </section>
      )}
      {(onRig || read) && <StepCautionsFolded step={BEFORE_PROBES} onRig={onRig} />}
      <section className="sheet" aria-labelledby="supply-records-title">
        <h2 id="supply-records-title">Accepted on this amplifier</h2>
        <SupplyRecords job={job} amplifier={amplifier} />
      </section>
    </section>
  );
}
