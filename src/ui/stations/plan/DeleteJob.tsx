import { useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { deleteJob } from '../../session/job-session.ts';
import { useFocusBack } from '../parts/use-focus-back.ts';
import { offerJobFile } from './ExportJob.tsx';
import { toStationTop } from './to-top.ts';

function losses({ title, records, signOffs }: Job): string {
  if (records.length === 0 && signOffs.length === 0) return `“${title}” has no records.`;
  const recorded = records.length === 1 ? 'its one record' : `its ${records.length} records`;
  const signed = signOffs.length === 1 ? 'its sign-off' : `its ${signOffs.length} sign-offs`;
  const count = signOffs.length === 0 ? recorded : `${recorded} and ${signed}`;
  return `“${title}” goes, and ${count} with it.`;
}

/** Deleting cannot be undone, so there is a second thought, and a file is offered first. */
export function DeleteJob({ job }: { job: Job }) {
  const [asked, setAsked] = useState(false);
  const [savedAs, setSavedAs] = useState<string | null>(null);
  const ask = useFocusBack(asked);
  if (!asked) {
    return (
      <div className="acts">
        <button ref={ask} type="button" className="act" onClick={() => setAsked(true)}>
          Delete this job…
        </button>
      </div>
    );
  }
  return (
    <section className="note over delete-job" aria-label="Delete this job">
      <p>{losses(job)} This cannot be undone: keep a file of it first.</p>
      <div className="acts">
        <button
          type="button"
          className="act main"
          // biome-ignore lint/a11y/noAutofocus: the question was asked for by pressing its button.
          autoFocus
          onClick={() => void offerJobFile(job).then(setSavedAs)}
        >
          Save a file of it
        </button>
        <button type="button" className="act" onClick={() => void deleteJob(job.id).then(toStationTop)}>
          {savedAs === null ? 'Delete it without a file' : 'Delete it'}
        </button>
        <button type="button" className="act plain" onClick={() => setAsked(false)}>
          Keep it
        </button>
      </div>
      <p role="status" className="small soft">
        {savedAs !== null && `${savedAs} is in your downloads; see that it is there.`}
      </p>
    </section>
  );
}
