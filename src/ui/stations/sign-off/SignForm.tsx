import { useId, useState } from 'react';
import type { Checkpoint } from '../../../job/progress/checkpoint.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS } from '../../marks/mark.ts';
import { signOffJob } from '../../session/job-session.ts';
import { SecondThought } from '../parts/SecondThought.tsx';
import { useFocusBack } from '../parts/use-focus-back.ts';

const SIGNER = 'kneepoint-signer';

interface Typed {
  signedBy: string;
  note: string;
}

/** What was typed for each job and not signed yet: whoever looks at the report first finds it again. */
const unsigned = new Map<string, Typed>();

function blank(): Typed {
  return { signedBy: localStorage.getItem(SIGNER) ?? '', note: '' };
}

/** On a phone the buttons beneath should still be in sight; the whole list stands further down. */
const NAMED = 4;

/** Name, note, and the main action until it is signed; where anything is open, a second thought first. */
export function SignForm({
  jobId,
  open,
  isSigned,
}: {
  jobId: string;
  open: readonly Checkpoint[];
  isSigned: boolean;
}) {
  const [{ signedBy, note }, setTyped] = useState(unsigned.get(jobId) ?? blank());
  const type = (part: Partial<Typed>) => {
    const next = { signedBy, note, ...part };
    unsigned.set(jobId, next);
    setTyped(next);
  };
  const [thinking, setThinking] = useState(false);
  const [said, setSaid] = useState<{ fault: string | null } | null>(null);
  const whyId = useId();
  const submit = useFocusBack(thinking);
  const isNamed = signedBy.trim() !== '';
  const sign = async () => {
    setThinking(false);
    const fault = await signOffJob(signedBy, note);
    if (fault === null) {
      localStorage.setItem(SIGNER, signedBy.trim());
      type({ note: '' });
    }
    setSaid({ fault });
  };
  if (thinking) {
    return <SignAsOpen open={open} onSign={() => void sign()} onNotYet={() => setThinking(false)} />;
  }
  return (
    <form
      className="sheet accept-record"
      onSubmit={(event) => {
        event.preventDefault();
        setSaid(null);
        if (!isNamed) return;
        if (open.length > 0) setThinking(true);
        else void sign();
      }}
    >
      <div className="fields">
        <label className="field">
          Signed by
          <input
            value={signedBy}
            autoComplete="name"
            onChange={(event) => type({ signedBy: event.target.value })}
          />
        </label>
        <label className="field">
          Note, if any
          <input value={note} autoComplete="off" onChange={(event) => type({ note: event.target.value })} />
        </label>
      </div>
      <button
        ref={submit}
        type="submit"
        className={isSigned ? 'act' : 'act main big'}
        aria-disabled={!isNamed}
        aria-describedby={whyId}
      >
        {isSigned ? 'Sign it once more' : 'Sign off this job'}
      </button>
      <p id={whyId} className="small soft">
        {isNamed ? '' : 'The name of whoever signs is needed.'}
      </p>
      {said !== null && said.fault !== null && (
        <p role="alert" className="wrong">
          {said.fault}
        </p>
      )}
      {said?.fault === null && (
        <p role="status" className="recorded">
          <MarkSign mark="done" /> <b>Signed.</b>
        </p>
      )}
    </form>
  );
}

function SignAsOpen({
  open,
  onSign,
  onNotYet,
}: {
  open: readonly Checkpoint[];
  onSign: () => void;
  onNotYet: () => void;
}) {
  return (
    <SecondThought anyway="Sign it anyway" onAnyway={onSign} notYet="Not yet" onNotYet={onNotYet}>
      <p>
        <b>A second thought:</b> this will be signed as open.
      </p>
      <ul className="bullets small">
        {open.slice(0, NAMED).map(({ kind, subjectId, title, mark }) => (
          <li key={kind + subjectId}>
            {title}: {MARK_WORDS[mark]}
          </li>
        ))}
        {open.length > NAMED && <li>and {open.length - NAMED} more, listed under What this job asks for</li>}
      </ul>
    </SecondThought>
  );
}
