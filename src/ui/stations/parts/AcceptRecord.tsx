import { useId, useState, useSyncExternalStore } from 'react';
import type { Conditions } from '../../../job/document.ts';
import type { StationState } from '../../../procedure/procedure.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import type { Busy, Kept } from '../../session/station-session.ts';
import { useFocusHere } from './focus-here.ts';
import { SecondThought } from './SecondThought.tsx';

/** What the button needs to know of a session: nothing is accepted while a recording is under way. */
export interface AcceptingSession {
  accept(jobId: string, conditions: Conditions): Promise<Kept>;
  subscribe(listener: () => void): () => void;
  busy(): Busy;
  /** Whether the last thing done was to accept: what stands there is a record already. */
  isAccepted(): boolean;
}

/** In place of the button: pressed twice in haste, it would make two records of one measurement. */
function Recorded({ can, onOnceMore }: { can: boolean; onOnceMore: () => void }) {
  const here = useFocusHere<HTMLParagraphElement>();
  return (
    <>
      <p ref={here} tabIndex={-1} role="status" className="recorded">
        <MarkSign mark="done" /> <b>Recorded.</b>
      </p>
      <button type="button" className="act plain" aria-disabled={!can} onClick={onOnceMore}>
        Record it once more
      </button>
    </>
  );
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
  const isAccepted = useSyncExternalStore(session.subscribe, session.isAccepted);
  const [isWriting, setWriting] = useState(false);
  const can = acceptance.can && !busy && !isWriting;
  const whyId = useId();
  const [thinking, setThinking] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const accept = () => {
    setThinking(false);
    setWriting(true);
    session
      .accept(jobId, conditions())
      .then(
        (kept) => setFault(kept.fault),
        (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
      )
      .finally(() => setWriting(false));
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
      {isAccepted ? (
        <Recorded can={can} onOnceMore={press} />
      ) : (
        <>
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
        </>
      )}
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
    </div>
  );
}
