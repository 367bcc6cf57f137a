import { BEFORE_A_LOUD_TONE, BEFORE_A_SWEEP, FIGURES_NOT_PERMISSION } from '../../../job/caution-words.ts';
import { CautionList } from '../../cautions/Cautions.tsx';
import { observable, useObservable } from '../../live/observable.ts';

const KEY = 'kneepoint-sweep-cautions-read';
const CAUTIONS = [...BEFORE_A_SWEEP, ...BEFORE_A_LOUD_TONE];

/** Apart from those before a steady tone: a sweep reaches drivers that no setting tone does. */
export const sweepCautionsRead = observable(sessionStorage.getItem(KEY) === 'yes');

function confirm(): void {
  sessionStorage.setItem(KEY, 'yes');
  sweepCautionsRead.set(true);
}

/** Stands before the first sweep of a visit until it has been confirmed. */
export function SweepCautionsGate() {
  if (useObservable(sweepCautionsRead)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby="sweep-cautions-title">
      <h2 id="sweep-cautions-title">Before anything is swept</h2>
      <CautionList cautions={CAUTIONS} />
      <button type="button" className="act main big" onClick={confirm}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}

/** Folded away, for reading again. */
export function SweepCautionsFolded({ title }: { title: string }) {
  return (
    <details className="cautions-folded">
      <summary>{title}</summary>
      <CautionList cautions={CAUTIONS} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}
