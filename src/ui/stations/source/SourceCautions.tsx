import { BEFORE_VOLUME_STEPS, FIGURES_NOT_PERMISSION } from '../../../job/caution-words.ts';
import { CautionList } from '../../cautions/Cautions.tsx';
import '../../cautions/cautions.css';
import { observable, useObservable } from '../../live/observable.ts';

const KEY = 'kneepoint-source-cautions-read';

/** Confirmed once per session of this tab, as the cautions before a loud tone are. */
export const sourceCautionsRead = observable(sessionStorage.getItem(KEY) === 'yes');

function confirm(): void {
  sessionStorage.setItem(KEY, 'yes');
  sourceCautionsRead.set(true);
}

/** Stands before the first step up until it has been confirmed. */
export function SourceCautionsGate() {
  if (useObservable(sourceCautionsRead)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby="source-cautions-title">
      <h2 id="source-cautions-title">Before the volume goes up</h2>
      <CautionList cautions={BEFORE_VOLUME_STEPS} />
      <button type="button" className="act main big" onClick={confirm}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}

/** Folded away, for reading again. */
export function SourceCautionsFolded({ title }: { title: string }) {
  return (
    <details className="cautions-folded">
      <summary>{title}</summary>
      <CautionList cautions={BEFORE_VOLUME_STEPS} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}
