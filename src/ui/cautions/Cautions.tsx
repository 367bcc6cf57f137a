import { BEFORE_A_LOUD_TONE, type Caution, FIGURES_NOT_PERMISSION } from '../../job/caution-words.ts';
import { useObservable } from '../live/observable.ts';
import './cautions.css';
import { cautionsRead, confirmCautions } from './confirmed.ts';

export function CautionList({ cautions }: { cautions: readonly Caution[] }) {
  return (
    <ul className="cautions">
      {cautions.map((caution) => (
        <li key={caution.first}>
          <b>{caution.first}</b> {caution.why}
        </li>
      ))}
    </ul>
  );
}

/** Folded away, for reading again. */
export function CautionsFolded({ title }: { title: string }) {
  return (
    <details className="cautions-folded">
      <summary>{title}</summary>
      <CautionList cautions={BEFORE_A_LOUD_TONE} />
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </details>
  );
}

/** Stands before the first loud step of a session, until it has been confirmed. */
export function CautionsGate({ title = 'Before the tone plays' }: { title?: string }) {
  if (useObservable(cautionsRead)) return null;
  return (
    <section className="sheet cautions-gate" aria-labelledby="cautions-title">
      <h2 id="cautions-title">{title}</h2>
      <CautionList cautions={BEFORE_A_LOUD_TONE} />
      <button type="button" className="act main big" onClick={confirmCautions}>
        I have read this
      </button>
      <p className="small soft">{FIGURES_NOT_PERMISSION}</p>
    </section>
  );
}
