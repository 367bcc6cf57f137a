import { useSyncExternalStore } from 'react';
import type { Job } from '../../../job/document.ts';
import type { StoreSnapshot } from '../../../job/store/job-store.ts';
import { TextField } from '../../fields/TextField.tsx';
import { moment } from '../../format/moment.ts';
import { useObservable } from '../../live/observable.ts';
import { editJob, jobSession, openJob } from '../../session/job-session.ts';
import { DeleteJob } from './DeleteJob.tsx';
import { ExportJob } from './ExportJob.tsx';
import { ImportJob } from './ImportJob.tsx';
import { toStationTop } from './to-top.ts';
import { NewJobButtons } from './Welcome.tsx';

const NO_JOBS: StoreSnapshot = {
  jobs: [],
  calibrations: [],
  microphones: [],
  soundScales: [],
  trouble: null,
};
const never = () => () => {};

function useStored(): StoreSnapshot {
  const { store } = useObservable(jobSession);
  return useSyncExternalStore(store?.subscribe ?? never, store?.getSnapshot ?? (() => NO_JOBS));
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
      <ExportJob job={job} />
      <ul className="plainlist job-list" aria-label="Jobs in this browser">
        {jobs.map((summary) => (
          <li key={summary.id}>
            <button
              type="button"
              className="act preset"
              aria-current={summary.id === job.id ? 'true' : undefined}
              disabled={summary.refused !== null}
              onClick={() => void openJob(summary.id).then(toStationTop)}
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
      <DeleteJob key={job.id} job={job} />
      <details>
        <summary>Begin another job</summary>
        <NewJobButtons />
        <ImportJob />
      </details>
    </section>
  );
}
