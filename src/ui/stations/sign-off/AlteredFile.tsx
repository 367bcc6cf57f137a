import { useState } from 'react';
import type { Job, JobRecord } from '../../../job/document.ts';
import type { Alteration } from '../../../job/sign-off/alterations.ts';
import type { JobAltered } from '../../../job/sign-off/sealed-file.ts';
import { moment } from '../../format/moment.ts';
import { forgetAltered } from '../../session/job-session.ts';
import { toStationTop } from '../plan/to-top.ts';
import { FigureList } from './FigureList.tsx';
import './sign-off.css';
import { signedOrRefusal } from './signed-or-refusal.ts';

function Hashes({ claimed, found }: { claimed: string; found: string }) {
  return (
    <dl className="hashes small">
      <dt>It says</dt>
      <dd>
        <code className="hash">{claimed}</code>
      </dd>
      <dt>It is</dt>
      <dd>
        <code className="hash">{found}</code>
      </dd>
    </dl>
  );
}

/** The figures and words of two records that differ, by the place they stand at. */
function differences(signed: unknown, found: unknown, place = ''): string[] {
  if (Object.is(signed, found)) return [];
  const inner = (value: unknown): Record<string, unknown> | null =>
    typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : null;
  const [a, b] = [inner(signed), inner(found)];
  if (a === null || b === null) {
    return [
      `${place}: signed ${JSON.stringify(signed) ?? 'nothing'}, the file has ${JSON.stringify(found) ?? 'nothing'}`,
    ];
  }
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])];
  return keys.flatMap((key) => differences(a[key], b[key], place === '' ? key : `${place} ${key}`));
}

function RecordDifference({ signed, found }: { signed: JobRecord; found: JobRecord | null }) {
  if (found === null) return <p>It is no longer in the file.</p>;
  return (
    <ul className="bullets small">
      {differences(signed, found).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

function Altered({ alteration }: { alteration: Alteration }) {
  if (alteration.what === 'file') {
    return (
      <li className="altered-row">
        <b>The file as a whole</b> is not as it was exported.
        <Hashes claimed={alteration.claimedSha256} found={alteration.foundSha256} />
      </li>
    );
  }
  const { signedBy, at, sha256, note } = alteration.signOff;
  const who = (
    <>
      by <b>{signedBy}</b>, {moment(at)}
      {note !== '' && <>, “{note}”</>}
    </>
  );
  if (alteration.what === 'sign-off') {
    return (
      <li className="altered-row">
        <b>The sign-off</b> {who} does not match its SHA-256.
        <Hashes claimed={sha256} found={alteration.foundSha256} />
      </li>
    );
  }
  return (
    <li className="altered-row">
      <b>
        A record of {alteration.signed.kind}, {moment(alteration.signed.at)},
      </b>{' '}
      is not what was signed {who}.
      <RecordDifference signed={alteration.signed} found={alteration.found} />
    </li>
  );
}

/** What the altered sign-off claims; where none is altered, what the file as it is does. */
function Claims({ alterations, job }: { alterations: readonly Alteration[]; job: Job }) {
  const altered = alterations.find((one) => one.what === 'sign-off');
  const claimed = altered === undefined ? job : signedOrRefusal(altered.signOff);
  if (typeof claimed === 'string') return <p className="wrong">{claimed}</p>;
  return (
    <section className="stack" aria-label="What it claims">
      <p>
        <b>{claimed.title}</b>, to be looked at only: none of these figures can be relied on.
      </p>
      <FigureList job={claimed} label="Claimed figures" />
    </section>
  );
}

/** A file that was refused because it was altered: which sign-off, whose, and what it claims, to be looked at only. */
export function AlteredFile({ refusal }: { refusal: JobAltered }) {
  const [looking, setLooking] = useState(false);
  const { alterations, claimed } = refusal;
  const close = () => {
    forgetAltered();
    toStationTop();
  };
  return (
    <section className="station altered" aria-labelledby="altered-title">
      <div className="sheet">
        <div role="alert">
          <h2 id="altered-title" className="wrong">
            Refused: this file was altered after it was signed
          </h2>
          <p>Nothing of it was stored. Ask for the file as it was exported.</p>
        </div>
        <ul className="plainlist altered-list">
          {alterations.map((alteration, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a refusal's list never changes.
            <Altered key={index} alteration={alteration} />
          ))}
        </ul>
        <div className="acts">
          <button type="button" className="act" aria-expanded={looking} onClick={() => setLooking(!looking)}>
            {looking ? 'Hide what it claims' : 'Look at what it claims'}
          </button>
          <button type="button" className="act main" onClick={close}>
            Close
          </button>
        </div>
        {looking && <Claims alterations={alterations} job={claimed} />}
      </div>
    </section>
  );
}
