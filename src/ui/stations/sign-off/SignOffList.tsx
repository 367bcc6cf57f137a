import { useEffect, useState } from 'react';
import type { Job, SignOff } from '../../../job/document.ts';
import { alterationsOf } from '../../../job/sign-off/alterations.ts';
import { sha256Hex } from '../../../job/store/sha256.ts';
import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';

interface Standing {
  /** Ids of the sign-offs that no longer hold; `null` while that is not known. */
  broken: ReadonlySet<string> | null;
  /** Why it cannot be known, one sentence. */
  fault: string | null;
}

const UNKNOWN: Standing = { broken: null, fault: null };

/** The hashes are worked out anew whenever the job changes, and not believed because they were right before. */
function useStanding(job: Job): Standing {
  const [standing, setStanding] = useState(UNKNOWN);
  useEffect(() => {
    let isWanted = true;
    const show = (next: Standing) => {
      if (isWanted) setStanding(next);
    };
    alterationsOf(null, job, sha256Hex).then(
      (found) => {
        const broken = new Set(found.flatMap((one) => ('signOff' in one ? [one.signOff.id] : [])));
        show({ broken, fault: null });
      },
      (error: unknown) =>
        show({ broken: null, fault: error instanceof Error ? error.message : String(error) }),
    );
    return () => {
      isWanted = false;
    };
  }, [job]);
  return standing;
}

function Signed({ signOff, isBroken }: { signOff: SignOff; isBroken: boolean | null }) {
  return (
    <li className="sign-row">
      {isBroken !== null && <MarkSign mark={isBroken ? 'out-of-tolerance' : 'done'} />}
      <p>
        <b>{signOff.signedBy}</b>, {moment(signOff.at)}
        {isBroken === true && <span className="wrong"> altered since</span>}
        {isBroken === false && <span className="soft"> unaltered</span>}
        {signOff.note !== '' && (
          <>
            <br />
            {signOff.note}
          </>
        )}
        <br />
        <span className="small soft">
          SHA-256 <code className="hash">{signOff.sha256}</code>
        </span>
      </p>
    </li>
  );
}

/** Every sign-off of this job, newest first; none is ever changed or taken away. */
export function SignOffList({ job }: { job: Job }) {
  const { broken, fault } = useStanding(job);
  if (job.signOffs.length === 0) return null;
  return (
    <section className="sheet" aria-labelledby="sign-offs-title">
      <h2 id="sign-offs-title">Signed</h2>
      <ol className="plainlist" aria-label="Sign-offs">
        {[...job.signOffs].reverse().map((signOff) => (
          <Signed key={signOff.id} signOff={signOff} isBroken={broken?.has(signOff.id) ?? null} />
        ))}
      </ol>
      {fault !== null && <p className="wrong small">Whether they hold cannot be told: {fault}</p>}
      <details>
        <summary>What the hash shows, and what not</summary>
        <p>
          The hash covers the name, the date, the note and the whole job as it was signed. A file in which any
          of it was changed is refused when it is taken in. It is no signature: whoever changes a file on
          purpose can work out a new hash. To prove later that it is the same, keep the hash elsewhere, on
          paper or in a message to the customer.
        </p>
      </details>
    </section>
  );
}
