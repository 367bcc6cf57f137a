import { BEFORE_WIRING } from '../../../job/caution-words.ts';
import type { Job } from '../../../job/document.ts';
import { CautionList } from '../../cautions/Cautions.tsx';
import { ChainForm } from './ChainForm.tsx';
import { HistoryBar } from './HistoryBar.tsx';
import { JobBar } from './JobBar.tsx';
import './plan.css';
import { PowerWiring } from './power/PowerWiring.tsx';
import { SpeakerWires } from './power/SpeakerWires.tsx';
import { RunTrackDownload } from './run/RunTrackDownload.tsx';
import { Targets } from './Targets.tsx';
import { ToneSetDownload } from './ToneSetDownload.tsx';
import { Welcome } from './Welcome.tsx';

/** What is in the chain, and what should each point read? */
export function PlanStation({ job, onGain }: { job: Job | null; onGain: (channelId: string) => void }) {
  if (job === null) return <Welcome />;
  return (
    <div className="station plan">
      <h1>
        Plan <small>{job.title}</small>
      </h1>
      <p className="do">Check each load and rating against the data sheets, then set each gain.</p>
      <Targets job={job} onGain={onGain} />
      <HistoryBar job={job} />
      <section className="sheet" aria-labelledby="wiring-title">
        <h2 id="wiring-title">Before wiring</h2>
        <CautionList cautions={BEFORE_WIRING} />
      </section>
      <ChainForm job={job} />
      <PowerWiring job={job} />
      <SpeakerWires job={job} />
      <ToneSetDownload job={job} />
      <RunTrackDownload job={job} />
      <JobBar job={job} />
    </div>
  );
}
