import type { Job } from '../../../job/document.ts';
import { observable, useObservable } from '../../live/observable.ts';
import { ComparePart } from './ComparePart.tsx';
import { CheckPart } from './check/CheckPart.tsx';
import { ReportPart } from './report/ReportPart.tsx';
import { SignPart } from './SignPart.tsx';
import './sign-off.css';
import { TolerancesPart } from './TolerancesPart.tsx';

/** What this station is made of, in the order of the work; each gets the job. */
const PARTS = [
  { id: 'sign', name: 'Sign', Part: SignPart },
  { id: 'check', name: 'Check by one track', Part: CheckPart },
  { id: 'compare', name: 'Then and now', Part: ComparePart },
  { id: 'report', name: 'Report', Part: ReportPart },
  { id: 'tolerances', name: 'Tolerances', Part: TolerancesPart },
] as const;

const KEY = 'kneepoint-sign-off-part';

/** Coming back, or a reload, finds the part that was left. */
const openPart = observable<string>(sessionStorage.getItem(KEY) ?? PARTS[0].id);

function open(part: string): void {
  sessionStorage.setItem(KEY, part);
  openPart.set(part);
}

/** Is everything inside tolerance, and can it be shown? */
export function SignOffStation({ job }: { job: Job }) {
  const id = useObservable(openPart);
  const { Part } = PARTS.find((part) => part.id === id) ?? PARTS[0];
  return (
    <div className="station snug">
      <div className="station-head">
        <h1>Sign-off</h1>
        <fieldset className="part-tabs" aria-label="Parts of this station">
          {PARTS.map((part) => (
            <button key={part.id} type="button" aria-pressed={part.id === id} onClick={() => open(part.id)}>
              {part.name}
            </button>
          ))}
        </fieldset>
      </div>
      <Part job={job} />
    </div>
  );
}
