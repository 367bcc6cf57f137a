import { useState } from 'react';
import type { RecordKind } from '../../../job/records.ts';
import { offerDownload } from '../../session/download.ts';
import { sessionRecording } from '../../session/session-recording.ts';
import type { Course } from '../../session/station-session.ts';

/** The samples and the steps behind a record, as files that replay: proof, and the best report of a fault. */
export function SaveRecording({
  session,
}: {
  session: { kind: RecordKind; course(): Course<unknown> | null };
}) {
  const [fault, setFault] = useState<string | null>(null);
  const course = session.course();
  if (course === null || course.takes.length === 0) return null;
  const save = () => {
    setFault(null);
    sessionRecording(session.kind, course).then(
      (zip) => offerDownload(zip, `${session.kind}-recording.zip`),
      (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <div>
      <button type="button" className="act plain" onClick={save}>
        Save this recording
      </button>
      {fault !== null && <p className="wrong small">{fault}</p>}
    </div>
  );
}
