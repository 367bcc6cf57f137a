import { BEFORE_THE_ENGINE_RUNS, FIGURES_NOT_PERMISSION } from '../../../../job/caution-words.ts';
import { CautionList } from '../../../cautions/Cautions.tsx';
import { observable, useObservable } from '../../../live/observable.ts';

const KEY = 'kneepoint-engine-cautions-read';

/** Confirmed once per session of this tab, as the cautions before a loud tone are. */
export const engineCautionsRead = observable(sessionStorage.getItem(KEY) === 'yes');

function confirm(): void {
  sessionStorage.setItem(KEY, 'yes');
  engineCautionsRead.set(true);
}

/** Stands before the first recording with the engine running, until it has been confirmed. */
export function EngineCautionsGate() {
  if (useObservable(engineCautionsRead)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby="engine-cautions-title">
      <h3 id="engine-cautions-title">Before the engine runs</h3>
      <CautionList cautions={BEFORE_THE_ENGINE_RUNS} />
      <button type="button" className="act main big" onClick={confirm}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}

/** Folded away, for reading again. */
export function EngineCautionsFolded({ title }: { title: string }) {
  return (
    <details className="cautions-folded">
      <summary>{title}</summary>
      <CautionList cautions={BEFORE_THE_ENGINE_RUNS} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}
