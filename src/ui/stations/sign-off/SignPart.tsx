import { useMemo } from 'react';
import type { Job } from '../../../job/document.ts';
import { jobProgress } from '../../../job/progress/job-progress.ts';
import { signOffStanding } from '../../../job/sign-off/sign-off-standing.ts';
import { StationHelp } from '../parts/StationHelp.tsx';
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
    <div className="sign-columns">
      <section className="sign-left" aria-label="Signing">
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
        <SignForm key={job.id} open={open} />
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

function instruction(open: number, standing: 'none' | 'current' | 'outdated'): string {
  if (standing === 'current') return 'Signed as it stands. Export the job to keep the proof.';
  if (open === 0) return 'Everything that this job asks for is done: sign it.';
  return `${open === 1 ? 'One thing is' : `${open} things are`} open: finish what you can, then sign.`;
}
