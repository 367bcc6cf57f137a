import { FIGURES_NOT_PERMISSION } from '../../job/caution-words.ts';
import { useObservable } from '../live/observable.ts';
import { CautionList } from './Cautions.tsx';
import { confirmStep, type StepCautions } from './step-cautions.ts';

/** Stands before the first step of its kind until it has been confirmed. */
export function StepCautionsGate({ step }: { step: StepCautions }) {
  const titleId = `${step.id}-cautions-title`;
  if (useObservable(step.read)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby={titleId}>
      <h2 id={titleId}>{step.title}</h2>
      <CautionList cautions={step.cautions} />
      <button type="button" className="act main big" onClick={() => confirmStep(step)}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}

/** Folded away, for reading again. */
export function StepCautionsFolded({ step, onRig }: { step: StepCautions; onRig: boolean }) {
  return (
    <details className="cautions-folded">
      <summary>
        {onRig ? 'Practice: nothing here can be hurt. In a vehicle, read these first' : 'Cautions'}
      </summary>
      <CautionList cautions={step.cautions} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}
