import { useId, useState } from 'react';
import type { Checkpoint } from '../../../job/progress/checkpoint.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS } from '../../marks/mark.ts';
import { signOffJob } from '../../session/job-session.ts';
import { SecondThought } from '../parts/SecondThought.tsx';

const SIGNER = 'kneepoint-signer';

/** On a phone the buttons beneath should still be in sight; the whole list stands further down. */
const NAMED = 4;

/** Name, note, and the main action until it is signed; where anything is open, a second thought first. */
export function SignForm({ open, isSigned }: { open: readonly Checkpoint[]; isSigned: boolean }) {
  const [signedBy, setSignedBy] = useState(localStorage.getItem(SIGNER) ?? '');
  const [note, setNote] = useState('');
  const [thinking, setThinking] = useState(false);
  const [said, setSaid] = useState<{ fault: string | null } | null>(null);
  const whyId = useId();
  const isNamed = signedBy.trim() !== '';
  const sign = async () => {
    setThinking(false);
    const fault = await signOffJob(signedBy, note);
    if (fault === null) {
      localStorage.setItem(SIGNER, signedBy.trim());
      setNote('');
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
          <input value={signedBy} autoComplete="name" onChange={(event) => setSignedBy(event.target.value)} />
        </label>
        <label className="field">
          Note, if any
          <input value={note} autoComplete="off" onChange={(event) => setNote(event.target.value)} />
        </label>
      </div>
      <button
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
