import type { Job } from '../../../job/document.ts';
import type { Checkpoint } from '../../../job/progress/checkpoint.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS } from '../../marks/mark.ts';
import { STATION_NAMES } from '../../path/stations.ts';
import { go } from '../../route/route.ts';

function open({ station, subjectId }: Checkpoint, job: Job): void {
  const channelId = job.channels.some(({ id }) => id === subjectId) ? subjectId : null;
  go({ station, channelId });
}

/** Everything that the job asks for, by station, and where it stands; each leads to where it is done. */
export function ProgressList({ progress, job }: { progress: readonly Checkpoint[]; job: Job }) {
  const stations = [...new Set(progress.map(({ station }) => station))];
  return (
    <section className="sheet sign-progress" aria-labelledby="sign-progress-title">
      <h2 id="sign-progress-title">What this job asks for</h2>
      {stations.map((station) => (
        <div key={station}>
          <h3>{STATION_NAMES[station]}</h3>
          <ul className="plainlist" aria-label={STATION_NAMES[station]}>
            {progress
              .filter((point) => point.station === station)
              .map((point) => (
                <li key={point.title} className="sign-row" data-mark={point.mark}>
                  <MarkSign mark={point.mark} />
                  <p>
                    <button type="button" className="sign-way" onClick={() => open(point, job)}>
                      {point.title}
                    </button>{' '}
                    <span className="small soft">
                      {MARK_WORDS[point.mark]}
                      {point.why !== null && `. ${point.why}`}
                    </span>
                  </p>
                </li>
              ))}
          </ul>
        </div>
      ))}
    </section>
  );
}
