import { useState } from 'react';
import { runTrackOf } from '../../../../job/check-task.ts';
import type { Job } from '../../../../job/document.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import { readManifest } from '../../../../job/read-manifest.ts';
import { toneSet } from '../../../../job/tone-set.ts';
import { TONE_SET_FORM } from '../../../session/level-track.ts';

export interface ChosenTrack {
  /** File name of the manifest; `null` for the job's own set. */
  from: string | null;
  run: RunTrack;
}

/** @throws RangeError where the job's tone set cannot be made */
export function ownTrack(job: Job): ChosenTrack {
  return { from: null, run: runTrackOf(toneSet(job, TONE_SET_FORM)) };
}

/** Which run track was played: the job's own, or that of another tone set, by its manifest. */
export function TrackChoice({
  job,
  track,
  onChange,
}: {
  job: Job;
  track: ChosenTrack;
  onChange: (track: ChosenTrack) => void;
}) {
  const [fault, setFault] = useState<string | null>(null);
  const take = (file: File) => {
    file
      .text()
      .then((text) => onChange({ from: file.name, run: runTrackOf(readManifest(text)) }))
      .then(
        () => setFault(null),
        (error: unknown) =>
          setFault(`${file.name}: ${error instanceof Error ? error.message : String(error)}`),
      );
  };
  return (
    <details>
      <summary>
        Track: {track.from === null ? 'this job’s own run track' : `the run track of ${track.from}`}
      </summary>
      <label className="field">
        Another tone set, by its manifest.json
        <input
          type="file"
          accept=".json,application/json"
          onChange={(event) => {
            const file = event.target.files?.[0];
            event.target.value = '';
            if (file !== undefined) take(file);
          }}
        />
      </label>
      {track.from !== null && (
        <button type="button" className="act" onClick={() => onChange(ownTrack(job))}>
          Back to this job’s own
        </button>
      )}
      {fault !== null && (
        <p role="alert" className="wrong small">
          {fault}
        </p>
      )}
    </details>
  );
}
