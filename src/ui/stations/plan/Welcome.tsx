import { JOB_PRESETS, newJob } from '../../../job/new-job.ts';
import { addJob } from '../../session/job-session.ts';
import { newId } from '../../session/new-id.ts';
import { ImportJob } from './ImportJob.tsx';
import { toStationTop } from './to-top.ts';

export function NewJobButtons() {
  return (
    <ul className="plainlist">
      {JOB_PRESETS.map(({ preset, title, sentence }) => (
        <li key={preset}>
          <button
            type="button"
            className="act preset"
            onClick={() =>
              void addJob(newJob({ preset, id: newId(), at: new Date().toISOString() })).then(toStationTop)
            }
          >
            <b>{title}</b>
            <span>{sentence}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** The first visit: no job yet. */
export function Welcome() {
  return (
    <div className="station welcome">
      <h1>Plan</h1>
      <p className="do">
        Kneepoint works out what each channel should read, then shows how far to turn each gain. Begin with
        the layout that is nearest to your vehicle; every figure can be changed.
      </p>
      <section className="sheet" aria-labelledby="begin-title">
        <h2 id="begin-title">Begin a job</h2>
        <NewJobButtons />
        <ImportJob />
      </section>
      <section className="sheet" aria-labelledby="practise-title">
        <h2 id="practise-title">Or practise first</h2>
        <p>
          An invented hatchback with a simulated radio and amplifiers. Nothing is played and nothing can be
          hurt.
        </p>
        <a className="act" href="?rig=demo">
          Open the practice rig
        </a>
      </section>
    </div>
  );
}
