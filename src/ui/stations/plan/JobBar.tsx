import { useState, useSyncExternalStore } from 'react';
import type { Job } from '../../../job/document.ts';
import type { StoreSnapshot } from '../../../job/store/job-store.ts';
import { askToKeep } from '../../../job/store/keep.ts';
import { TextField } from '../../fields/TextField.tsx';
import { moment } from '../../format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import { offerDownload } from '../../session/download.ts';
import { editJob, jobSession, openJob } from '../../session/job-session.ts';
import { ImportJob } from './ImportJob.tsx';
import { NewJobButtons } from './Welcome.tsx';

const NO_JOBS: StoreSnapshot = { jobs: [], calibrations: [], trouble: null };
const never = () => () => {};

function useStored(): StoreSnapshot {
  const { store } = useObservable(jobSession);
  return useSyncExternalStore(store?.subscribe ?? never, store?.getSnapshot ?? (() => NO_JOBS));
}

const KEEP_WORDS = {
  kept: 'The browser has promised not to clear what is stored here. An exported file is still the only backup.',
  'may-be-cleared':
    'This browser may clear what is stored here when room runs short. Export the job to keep it.',
  unknown: 'This browser does not say how long it keeps what is stored here. Export the job to keep it.',
};

function Export({ job }: { job: Job }) {
  const [said, setSaid] = useState<string | null>(null);
  const exportJob = async () => {
    const { store } = jobSession.get();
    if (store === null) return;
    const { fileName, text } = await store.exportJob(job.id);
    offerDownload(new Blob([text], { type: 'application/json' }), fileName);
    setSaid(KEEP_WORDS[await askToKeep()]);
  };
  return (
    <>
      <div className="acts">
        <button type="button" className="act" onClick={() => void exportJob()}>
          Export this job
        </button>
      </div>
      <p role="status" className="small soft">
        {said}
      </p>
    </>
  );
}

/** The jobs in this browser: rename, export, open another, begin a new one. */
export function JobBar({ job }: { job: Job }) {
  const { jobs, trouble } = useStored();
  return (
    <section className="sheet" aria-labelledby="jobs-title">
      <h2 id="jobs-title">Jobs</h2>
      {trouble !== null && <p className="wrong">{trouble}</p>}
      <TextField
        label="Name of this job"
        value={job.title}
        onChange={(title) => editJob((now) => ({ ...now, title }))}
      />
      <Export job={job} />
      <ul className="plainlist job-list" aria-label="Jobs in this browser">
        {jobs.map((summary) => (
          <li key={summary.id}>
            <button
              type="button"
              className="act preset"
              aria-current={summary.id === job.id ? 'true' : undefined}
              disabled={summary.refused !== null}
              onClick={() => void openJob(summary.id)}
            >
              <b>
                {summary.id === job.id ? '● ' : ''}
                {summary.title}
              </b>
              <span>
                {summary.refused ??
                  `${summary.recordCount === 1 ? '1 record' : `${summary.recordCount} records`}, changed ${moment(summary.updatedAt)}`}
              </span>
            </button>
          </li>
        ))}
      </ul>
      <details>
        <summary>Begin another job</summary>
        <NewJobButtons />
        <ImportJob />
      </details>
    </section>
  );
}
