import type { SourceState } from '../../../procedure/source/source.ts';
import { useObservable } from '../../live/observable.ts';
import { sourceSession } from '../../session/source-sessions.ts';
import { LoudTick } from '../../signal/LoudTick.tsx';
import { LOUDEST, useWhyNotReady } from './ready-to-play.ts';
import { beginStepRun, stepReached, stepRun, stopStepRun } from './step-run.ts';

function label(state: SourceState, onRig: boolean): string {
  if (state.next === null) return 'Measure it all again';
  const begun = state.steps.length > 0;
  if (onRig) return begun ? 'Go on' : 'Measure all steps';
  return begun ? `Go on at step ${state.next.step}` : `It is at step ${state.next.step}: begin`;
}

/** One press walks all the way; while it walks, the one press that matters is the one that stops it. */
export function StepsAction({
  state,
  onRig,
  isMain,
}: {
  state: SourceState;
  onRig: boolean;
  isMain: boolean;
}) {
  const run = useObservable(stepRun);
  const why = useWhyNotReady();
  const press = () => {
    if (why !== null) return;
    if (state.next === null) sourceSession.restart(state.task);
    void beginStepRun();
  };
  if (run.phase !== 'idle') {
    return (
      <div className="take-action">
        {run.phase === 'turning' && (
          <button type="button" className="act" onClick={stepReached}>
            It is at step {run.purpose?.step}: measure
          </button>
        )}
        <button type="button" className="act main big" onClick={stopStepRun}>
          Stop
        </button>
      </div>
    );
  }
  return (
    <div className="take-action">
      <LoudTick signal={LOUDEST} />
      <button
        type="button"
        className={isMain ? 'act main big' : 'act'}
        aria-disabled={why !== null}
        aria-describedby="steps-why"
        onClick={press}
      >
        {label(state, onRig)}
      </button>
      <p id="steps-why" role="status" className="small soft">
        {why ?? run.fault ?? ''}
      </p>
    </div>
  );
}
