import type { Job } from '../../job/document.ts';
import { jobProgress, nextCheckpoint } from '../../job/progress/job-progress.ts';
import { MarkSign } from '../marks/MarkSign.tsx';
import { MARK_WORDS } from '../marks/mark.ts';
import { go } from '../route/route.ts';
import './next-step.css';
import { STATION_NAMES } from './stations.ts';

/** What the job asks for next, and why; also the way there. */
export function NextStep({ job }: { job: Job }) {
  const next = nextCheckpoint(jobProgress(job));
  if (next === null) {
    return <p className="next-step">Everything that this job asks for is done.</p>;
  }
  const { station, subjectId, title, mark, why } = next;
  const isChannel = job.channels.some((channel) => channel.id === subjectId);
  return (
    <nav className="next-step" aria-label="What to do next">
      <MarkSign mark={mark} />
      <p>
        <b>Next: {title}.</b> {why ?? (mark === 'not-done' ? '' : `${MARK_WORDS[mark]}.`)}
      </p>
      <button
        type="button"
        className="act"
        onClick={() => go({ station, channelId: isChannel ? subjectId : null })}
      >
        Go to {STATION_NAMES[station]}
      </button>
    </nav>
  );
}
