import { useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { askToKeep } from '../../../job/store/keep.ts';
import { offerDownload } from '../../session/download.ts';
import { jobSession } from '../../session/job-session.ts';

const KEEP_WORDS = {
  kept: 'The browser has promised not to clear what is stored here. An exported file is still the only backup.',
  'may-be-cleared':
    'This browser may clear what is stored here when room runs short. Export the job to keep it.',
  unknown: 'This browser does not say how long it keeps what is stored here. Export the job to keep it.',
};

/** Hands the job to the browser's downloads as a file. @returns its name, or `null` without a store */
export async function offerJobFile(job: Job): Promise<string | null> {
  const { store } = jobSession.get();
  if (store === null) return null;
  const { fileName, text } = await store.exportJob(job.id);
  offerDownload(new Blob([text], { type: 'application/json' }), fileName);
  return fileName;
}

export function ExportJob({ job }: { job: Job }) {
  const [said, setSaid] = useState<string | null>(null);
  const exportJob = async () => {
    if ((await offerJobFile(job)) !== null) setSaid(KEEP_WORDS[await askToKeep()]);
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
