import type { Job } from '../../job/document.ts';
import { jobProgress, nextCheckpoint } from '../../job/progress/job-progress.ts';
import { signOffStanding } from '../../job/sign-off/sign-off-standing.ts';
import { MarkSign } from '../marks/MarkSign.tsx';
import { MARK_WORDS } from '../marks/mark.ts';
import { go, type Route } from '../route/route.ts';
import './next-step.css';
import { STATION_NAMES } from './stations.ts';

/** What the job asks for next, and why; also the way there. */
export function NextStep({ job, at }: { job: Job; at: Route }) {
  const next = nextCheckpoint(jobProgress(job));
  if (next === null) {
    const { standing } = signOffStanding(job);
    const isWanted = standing !== 'current' && at.station !== 'sign-off';
    return (
      <>
        <p className="next-step">Everything that this job asks for is done.</p>
        {isWanted && (
          <nav className="next-way" aria-label="What to do next">
            <button
              type="button"
              className="act"
              onClick={() => go({ station: 'sign-off', channelId: null })}
            >
              Go to {STATION_NAMES['sign-off']}
            </button>
          </nav>
        )}
      </>
    );
  }
  const { station, subjectId, title, mark, why } = next;
  const channelId = job.channels.some((channel) => channel.id === subjectId) ? subjectId : null;
  const isHere = at.station === station && (channelId === null || at.channelId === channelId);
  return (
    <nav className="next-step" aria-label="What to do next">
      <MarkSign mark={mark} />
      <p>
        <b>Next: {title}.</b> {why ?? (mark === 'not-done' ? '' : `${MARK_WORDS[mark]}.`)}
      </p>
      {!isHere && (
        <button type="button" className="act" onClick={() => go({ station, channelId })}>
          Go to {STATION_NAMES[station]}
        </button>
      )}
    </nav>
  );
}
