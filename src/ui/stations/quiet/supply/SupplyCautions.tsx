import { BEFORE_SUPPLY_READINGS, FIGURES_NOT_PERMISSION } from '../../../../job/caution-words.ts';
import { CautionList } from '../../../cautions/Cautions.tsx';
import { observable, useObservable } from '../../../live/observable.ts';

const KEY = 'kneepoint-supply-cautions-read';

/** Confirmed once per session of this tab, as the cautions before a loud tone are. */
export const supplyCautionsRead = observable(sessionStorage.getItem(KEY) === 'yes');

function confirm(): void {
  sessionStorage.setItem(KEY, 'yes');
  supplyCautionsRead.set(true);
}

/** Stands before the first probe until it has been confirmed. */
export function SupplyCautionsGate() {
  if (useObservable(supplyCautionsRead)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby="supply-cautions-title">
      <h2 id="supply-cautions-title">Before the probes go on</h2>
      <CautionList cautions={BEFORE_SUPPLY_READINGS} />
      <button type="button" className="act main big" onClick={confirm}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}

/** Folded away, for reading again. */
export function SupplyCautionsFolded({ title }: { title: string }) {
  return (
    <details className="cautions-folded">
      <summary>{title}</summary>
      <CautionList cautions={BEFORE_SUPPLY_READINGS} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}
