import { useId, useState, useSyncExternalStore } from 'react';
import type { Conditions } from '../../../job/document.ts';
import type { StationState } from '../../../procedure/procedure.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import type { Busy, Kept } from '../../session/station-session.ts';
import { SecondThought } from './SecondThought.tsx';

/** What the button needs to know of a session: nothing is accepted while a recording is under way. */
export interface AcceptingSession {
  accept(jobId: string, conditions: Conditions): Promise<Kept>;
  subscribe(listener: () => void): () => void;
  busy(): Busy;
}

/**
 * Freezes what was measured as a record. Out of tolerance, it asks for a second thought first.
 *
 * @param main false while measuring is still the main action
 */
export function AcceptRecord({
  jobId,
  session,
  acceptance,
  conditions,
  label,
  main,
}: {
  jobId: string;
  session: AcceptingSession;
  acceptance: StationState['acceptance'];
  conditions: () => Conditions;
  label: string;
  main: boolean;
}) {
  const busy = useSyncExternalStore(session.subscribe, session.busy) !== null;
  const can = acceptance.can && !busy;
  const whyId = useId();
  const [thinking, setThinking] = useState(false);
  const [said, setSaid] = useState<Kept | null>(null);
  const accept = () => {
    setThinking(false);
    session
      .accept(jobId, conditions())
      .then(setSaid, (error: unknown) =>
        setSaid({ fault: error instanceof Error ? error.message : String(error), record: null }),
      );
  };
  const press = () => {
    if (!can) return;
    if (acceptance.needsSecondThought) setThinking(true);
    else accept();
  };
  if (thinking && acceptance.can) {
    return (
      <SecondThought
        anyway="Accept it anyway"
        onAnyway={accept}
        notYet="Not yet"
        onNotYet={() => setThinking(false)}
      >
        <p>
          <b>A second thought:</b> {acceptance.why}
        </p>
      </SecondThought>
    );
  }
  return (
    <div className="accept-record">
      <button
        type="button"
        className={main ? 'act main big' : 'act'}
        aria-disabled={!can}
        aria-describedby={whyId}
        onClick={press}
      >
        {label}
      </button>
      <p id={whyId} className="small soft">
        {acceptance.why ?? ''}
      </p>
      {said?.fault != null && (
        <p role="alert" className="wrong">
          {said.fault}
        </p>
      )}
      {said?.fault === null && (
        <p role="status" className="recorded">
          <MarkSign mark="done" /> <b>Recorded.</b>
        </p>
      )}
    </div>
  );
}
