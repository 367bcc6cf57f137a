import { useMemo, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { jobProgress } from '../../../job/progress/job-progress.ts';
import { signOffStanding } from '../../../job/sign-off/sign-off-standing.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { offerJobFile } from '../plan/ExportJob.tsx';
import { ProgressList } from './ProgressList.tsx';
import { SignForm } from './SignForm.tsx';
import { SignOffList } from './SignOffList.tsx';

/** What stands, what is open, and the signature under it. */
export function SignPart({ job }: { job: Job }) {
  const progress = useMemo(() => jobProgress(job), [job]);
  const standing = useMemo(() => signOffStanding(job), [job]);
  const done = progress.filter(({ mark }) => mark === 'done').length;
  const open = progress.filter(({ mark }) => mark !== 'done');
  return (
    <div className="sign-columns side-by-side">
      <section className="sign-left stack" aria-label="Signing">
        <p className="do">{instruction(open.length, standing.standing)}</p>
        <p className="big-reading sign-count">
          <output
            data-reading="signOffDone"
            data-value={done}
            data-state={open.length === 0 ? 'valid' : 'open'}
            aria-label="Things done of those that this job asks for"
          >
            {done}
          </output>
          <span className="unit">of {progress.length} done</span>
        </p>
        {standing.standing === 'outdated' && <p className="note">{standing.why}</p>}
        {standing.standing === 'current' && <ExportSigned job={job} />}
        <SignForm key={job.id} jobId={job.id} open={open} isSigned={standing.standing === 'current'} />
        <SignOffList job={job} />
        <StationHelp
          does="Signing freezes the job as it stands, with your name, the date and a hash, so that a file changed afterwards is noticed."
          needs="You need nothing but the records of the other stations; what is open is frozen as open."
        />
      </section>
      <ProgressList progress={progress} job={job} />
    </div>
  );
}

/** Once signed, the file is what there is left to do: it is the proof. */
function ExportSigned({ job }: { job: Job }) {
  const [savedAs, setSavedAs] = useState<string | null>(null);
  return (
    <div className="accept-record">
      <button type="button" className="act main big" onClick={() => void offerJobFile(job).then(setSavedAs)}>
        Export the signed job
      </button>
      <p role="status" className="recorded">
        {savedAs !== null && (
          <>
            <MarkSign mark="done" /> {savedAs} is in your downloads.
          </>
        )}
      </p>
    </div>
  );
}

function instruction(open: number, standing: 'none' | 'current' | 'outdated'): string {
  if (standing === 'current') return 'Signed as it stands. Export the job to keep the proof.';
  if (open === 0) return 'Everything that this job asks for is done: sign it.';
  return `${open === 1 ? 'One thing is' : `${open} things are`} open: finish what you can, then sign.`;
}
