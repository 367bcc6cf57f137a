import { useEffect, useId, useRef, useState, useSyncExternalStore } from 'react';
import type { Busy } from '../../session/station-session.ts';
import { runTake, type TakePlan, type TakingSession } from '../../signal/run-take.ts';
import './parts.css';

/** What the button needs to know of a session, beside taking. */
export interface ActingSession extends TakingSession {
  subscribe(listener: () => void): () => void;
  busy(): Busy;
  fault(): string | null;
}

/** What a station is busy with; between two recordings of one run it reads the one before. */
export function busyWords(busy: Busy): string {
  return busy?.what === 'recording' ? `Recording, ${Math.ceil(busy.seconds)} s` : 'Reading the recording';
}

/** The bar of a recording under way. Painted by its own animation, so that nothing redraws meanwhile. */
function RecordingBar({ seconds, sinceMs }: { seconds: number; sinceMs: number }) {
  const bar = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    const elapsedMs = performance.now() - sinceMs;
    const animation = bar.current?.animate([{ width: '0%' }, { width: '100%' }], {
      duration: 1000 * seconds,
      fill: 'forwards',
      delay: -elapsedMs,
    });
    return () => animation?.cancel();
  }, [seconds, sinceMs]);
  return (
    <span className="recording-bar" aria-hidden="true">
      <span ref={bar} />
    </span>
  );
}

/**
 * The station's one main action: plays the signal, records it, reads it. Says why where it cannot be pressed,
 * and how it went.
 *
 * @param plan made when pressed, so that it holds what is true then; `null` where there is nothing to take
 */
export function TakeAction({
  session,
  label,
  plan,
  why = null,
  main = true,
  onTaken,
}: {
  session: ActingSession;
  label: string;
  plan: () => TakePlan | null;
  why?: string | null;
  /** False where another action leads the station. */
  main?: boolean;
  onTaken?: (taken: boolean) => void;
}) {
  const busy = useSyncExternalStore(session.subscribe, session.busy);
  const sessionFault = useSyncExternalStore(session.subscribe, session.fault);
  const [fault, setFault] = useState<string | null>(null);
  const whyId = useId();
  const press = () => {
    const now = plan();
    if (now === null || busy !== null || why !== null) return;
    setFault(null);
    runTake(session, now).then(
      (taken) => onTaken?.(taken),
      (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <div className="take-action">
      <button
        type="button"
        className={main ? 'act main big' : 'act'}
        aria-disabled={busy !== null || why !== null}
        aria-describedby={whyId}
        onClick={press}
      >
        {busy === null ? label : busyWords(busy)}
        {busy?.what === 'recording' && <RecordingBar seconds={busy.seconds} sinceMs={busy.sinceMs} />}
      </button>
      <p id={whyId} role="status" className="small soft">
        {fault ?? sessionFault ?? why ?? ''}
      </p>
    </div>
  );
}
