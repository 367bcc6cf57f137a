import { useMemo, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { jobChange } from '../../../job/history/job-change.ts';
import { type ComparedFigure, compareJobs } from '../../../job/verify/compare.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { STATION_NAMES } from '../../path/stations.ts';
import { StationHelp } from '../parts/StationHelp.tsx';
import {
  comparedInstruction,
  differenceWords,
  figureWords,
  VERDICT_MARKS,
  VERDICT_WORDS,
} from './figure-words.ts';
import { OverlayPictures } from './OverlayPictures.tsx';
import { signOffWords } from './sign-off-words.ts';
import { signedOrRefusal } from './signed-or-refusal.ts';

/** An earlier sign-off is the baseline: what of it has changed, and what cannot be told. */
export function ComparePart({ job }: { job: Job }) {
  const newest = job.signOffs.at(-1);
  const [chosenId, setChosenId] = useState<string | null>(null);
  const signOff = job.signOffs.find(({ id }) => id === chosenId) ?? newest;
  const baseline = useMemo(() => (signOff === undefined ? null : signedOrRefusal(signOff)), [signOff]);
  if (signOff === undefined || baseline === null) {
    return <p className="do">Sign this job first: a sign-off is what a later visit is held against.</p>;
  }
  return (
    <>
      <ChoiceField
        label="Held against the sign-off of"
        value={signOff.id}
        choices={[...job.signOffs].reverse().map((one) => ({ value: one.id, words: signOffWords(one) }))}
        onChange={setChosenId}
      />
      {typeof baseline === 'string' ? (
        <p className="wrong">{baseline}</p>
      ) : (
        <Comparison key={signOff.id} baseline={baseline} job={job} />
      )}
      <StationHelp
        does="This holds each figure of the earlier sign-off against the newest record: changed only where they differ by more than both leave open (k = 2)."
        needs="Measure again at the other stations, or check by one track, under the conditions of then."
      />
    </>
  );
}

function Comparison({ baseline, job }: { baseline: Job; job: Job }) {
  const compared = useMemo(() => compareJobs(baseline, job), [baseline, job]);
  const change = useMemo(() => jobChange(baseline, job), [baseline, job]);
  const changed = compared.filter(({ verdict }) => verdict === 'changed').length;
  const same = compared.filter(({ verdict }) => verdict === 'not-changed').length;
  return (
    <>
      <p className="do">{comparedInstruction(compared)}</p>
      <p className="big-reading sign-count">
        <output
          data-reading="changedFigures"
          data-value={changed}
          data-state={changed + same > 0 ? 'valid' : 'nothing-measured-again'}
          aria-label="Figures that have changed since that sign-off"
        >
          {changed}
        </output>
        <span className="unit">changed</span>
      </p>
      <p className="soft">
        {same} not changed, {compared.length - changed - same} that cannot be told.
      </p>
      {change !== null && <p className="note">The plan has changed since then: {change.what}.</p>}
      <ComparedList compared={compared} />
      <OverlayPictures baseline={baseline} job={job} />
    </>
  );
}

/** What changed stands first: it is what one came for. */
function ComparedList({ compared }: { compared: readonly ComparedFigure[] }) {
  const order = ['changed', 'cannot-tell', 'not-changed'] as const;
  return (
    <section className="sheet" aria-labelledby="compared-title">
      <h2 id="compared-title">Then and now</h2>
      {compared.length === 0 && <p className="soft">Neither visit has a record.</p>}
      <ul className="plainlist compared" aria-label="Figures then and now">
        {order
          .flatMap((verdict) => compared.filter((one) => one.verdict === verdict))
          .map((one) => (
            <li key={one.key} className="sign-row compared-row" data-key={one.key} data-verdict={one.verdict}>
              <MarkSign mark={VERDICT_MARKS[one.verdict]} />
              <div>
                <p>
                  <b className="compared-title">{one.title}</b>{' '}
                  <span className="small soft">{STATION_NAMES[one.station]}</span>
                </p>
                <dl className="compared-figures">
                  <dt>then</dt>
                  <dd>{figureWords(one.before)}</dd>
                  <dt>now</dt>
                  <dd>{figureWords(one.after)}</dd>
                </dl>
                <p>
                  <b>{VERDICT_WORDS[one.verdict]}</b> {one.why ?? differenceWords(one)}
                </p>
              </div>
            </li>
          ))}
      </ul>
    </section>
  );
}
