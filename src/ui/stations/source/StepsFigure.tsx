import { percent, plusMinusVolts, volts } from '../../../job/format/quantity.ts';
import type { SourceState } from '../../../procedure/source/source.ts';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { sourceSession } from '../../session/source-sessions.ts';
import { Instruction } from '../parts/Instruction.tsx';
import { type StepRun, stepRun } from './step-run.ts';

function face(): OutputFace {
  const ceiling = sourceSession.state()?.ceiling ?? null;
  const step = ceiling?.cleanStep ?? null;
  if (ceiling === null || step === null) return { value: null, state: 'not-measured', words: '—' };
  return { value: step, state: ceiling.settled ? 'valid' : 'under-way', words: String(step) };
}

/** What the hands have to do; while the program works by itself, what it does. */
function whatToDo(state: SourceState, onRig: boolean, run: StepRun): string {
  const { purpose, phase, seesTurn } = run;
  if (purpose !== null) {
    const { frequencyHz } = state.task.tones[purpose.tone];
    if (phase === 'measuring') return `Measuring step ${purpose.step} with ${frequencyHz} Hz.`;
    return seesTurn
      ? `Turn the volume to step ${purpose.step}; it is measured by itself once it rests.`
      : `Turn the volume to step ${purpose.step} and play ${frequencyHz} Hz, then say so.`;
  }
  if (onRig && state.next !== null && state.obstacle === null) {
    return 'The practice radio turns its own volume and changes its own tracks: one press measures every step.';
  }
  return state.instruction;
}

/** What to do, and the highest clean step so far. */
export function StepsFigure({ state, onRig }: { state: SourceState; onRig: boolean }) {
  const run = useObservable(stepRun);
  const { task, ceiling, steps } = state;
  const clean = steps.find((at) => at.step === ceiling.cleanStep)?.middle ?? null;
  return (
    <>
      <Instruction className="source-do" session={sourceSession}>
        {whatToDo(state, onRig, run)}
      </Instruction>
      <div className="source-figure">
        <BigReading
          name="highestCleanStep"
          label="Highest clean step"
          unit={`of ${task.volumeSteps}`}
          read={face}
        />
        <p className="facts">
          {clean === null ? (
            'highest clean step so far'
          ) : (
            <>
              {ceiling.settled ? 'highest clean step' : 'highest clean step so far'}
              {ceiling.volts !== null && (
                <>
                  {' '}
                  · <b>{volts(ceiling.volts)}</b> {plusMinusVolts(ceiling.voltsUncertainty)}
                </>
              )}{' '}
              · THD {percent(clean.thdPercent)}
              {ceiling.kneeVolts !== null && <> · its ceiling {volts(ceiling.kneeVolts)}</>}
            </>
          )}
        </p>
      </div>
    </>
  );
}
