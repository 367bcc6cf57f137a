import type { SourceState } from '../../../procedure/source/source.ts';
import { percent, plusMinusVolts, volts } from '../../format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import type { OutputFace } from '../../outputs/LiveOutput.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { sourceSession } from '../../session/source-sessions.ts';
import { stepRun } from './step-run.ts';

function face(): OutputFace {
  const ceiling = sourceSession.state()?.ceiling ?? null;
  const step = ceiling?.cleanStep ?? null;
  if (ceiling === null || step === null) return { value: null, state: 'not-measured', words: '—' };
  return { value: step, state: ceiling.settled ? 'valid' : 'under-way', words: String(step) };
}

/** What to do, and the highest clean step so far. */
export function StepsFigure({ state }: { state: SourceState }) {
  const { phase, purpose, seesTurn } = useObservable(stepRun);
  const { task, ceiling, steps } = state;
  const clean = steps.find((at) => at.step === ceiling.cleanStep)?.middle ?? null;
  const turning =
    phase === 'turning' && purpose !== null
      ? `Turn the volume to step ${purpose.step}${seesTurn ? '; it is measured by itself once it rests.' : ` and play ${task.tones[purpose.tone].frequencyHz} Hz, then say so.`}`
      : null;
  return (
    <>
      <p className="do source-do" aria-live="polite">
        {turning ?? state.instruction}
      </p>
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
