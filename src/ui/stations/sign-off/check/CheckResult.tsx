import type { ReactNode } from 'react';
import type { Job } from '../../../../job/document.ts';
import { fixed, NOTHING } from '../../../../job/format/number.ts';
import { partFigure } from '../../../../job/format/part-figure.ts';
import type { CheckedPart, CheckReport } from '../../../../procedure/check/check.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import type { Mark } from '../../../marks/mark.ts';
import { offerDownload } from '../../../session/download.ts';
import { putAway } from './check-work.ts';

const VERDICTS: Record<CheckedPart['verdict'], { mark: Mark; words: string }> = {
  passed: { mark: 'done', words: 'passed' },
  failed: { mark: 'out-of-tolerance', words: 'failed' },
  'not-judged': { mark: 'not-done', words: 'not judged' },
  missing: { mark: 'not-done', words: 'not in the recording' },
};

function outcome({ markers, faults, missing, pass }: CheckReport): string {
  if (!markers.found) {
    return 'The run track was not found in this recording: play it from its beginning while it records, loud enough, or choose under Track the tone set that was played.';
  }
  if (pass) return 'Passed: every part that could be judged is inside its tolerance.';
  const found = faults.length === 1 ? 'One fault was found' : `${faults.length} faults were found`;
  const parts = missing.length === 1 ? 'one part is' : `${missing.length} parts are`;
  const lost = missing.length === 0 ? '' : `; ${parts} not in the recording`;
  return `Not passed. ${found}${lost}.`;
}

function Clock({ markers }: CheckReport) {
  const { startSeconds, startFound, clockSkewPpm, clockSkewUncertaintyPpm } = markers;
  return (
    <p className="small soft">
      {startFound ? 'Its start marker stands at' : 'The track begins at'}{' '}
      {startSeconds === null ? NOTHING : fixed(startSeconds, 2)} s.{' '}
      {clockSkewPpm === null
        ? 'The two clocks could not be compared.'
        : `The recorder’s clock differs from the player’s by ${fixed(clockSkewPpm, 1)} ppm (±${fixed(2 * (clockSkewUncertaintyPpm ?? 0), 1)}).`}
    </p>
  );
}

function pointName({ channels }: Job, id: string): string {
  return id === 'cabin' ? 'in the cabin' : `at ${channels.find((channel) => channel.id === id)?.name ?? id}`;
}

function Parts({ job, parts }: { job: Job; parts: readonly CheckedPart[] }) {
  return (
    <div className="check-table">
      <table>
        <caption className="unseen">Parts of the run track</caption>
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col">Result</th>
            <th scope="col" className="num">
              Reading
            </th>
          </tr>
        </thead>
        <tbody>
          {parts.map((part) => (
            <tr key={`${part.id} ${part.recordedChannel}`} data-part={part.id} data-verdict={part.verdict}>
              <th scope="row">
                {part.id}
                <br />
                <span className="small soft">{pointName(job, part.channel)}</span>
              </th>
              <td>
                <MarkSign mark={VERDICTS[part.verdict].mark} /> {VERDICTS[part.verdict].words}
                {part.why !== '' && <p className="small soft">{part.why}</p>}
              </td>
              <td className="num">{partFigure(part)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What `kneepoint check --json` prints for one recording, byte for byte. */
function asJson(report: CheckReport): string {
  return `${JSON.stringify(report, null, 2)}\n`;
}

export function CheckResult({
  job,
  report,
  name,
  children,
}: {
  job: Job;
  report: CheckReport;
  name: string;
  /** What can be done with it beside saving it. */
  children: ReactNode;
}) {
  const save = () =>
    offerDownload(
      new Blob([asJson(report)], { type: 'application/json' }),
      `${name.replace(/\.wav$/i, '')}.check.json`,
    );
  return (
    <section className="sheet" aria-labelledby="check-result-title">
      <h2 id="check-result-title" tabIndex={-1}>
        Check of {name}
      </h2>
      <p role="status">
        <output
          data-reading="checkPass"
          data-value={String(report.pass)}
          data-state={report.markers.found ? 'valid' : 'no-track'}
        >
          <MarkSign mark={report.pass ? 'done' : 'out-of-tolerance'} /> <b>{outcome(report)}</b>
        </output>
      </p>
      {report.markers.found && <Clock {...report} />}
      <ul className="plainlist" aria-label="Faults">
        {report.faults.map(({ fault, channel, sentence, evidence, remedy }) => (
          <li key={`${fault} ${channel}`} className="note over" data-fault={fault} data-channel={channel}>
            <b>{sentence}</b> {evidence} {remedy}
          </li>
        ))}
      </ul>
      {children}
      {report.parts.length > 0 && <Parts job={job} parts={report.parts} />}
      <div className="acts">
        <button type="button" className="act" onClick={save}>
          Save as JSON
        </button>
        <button type="button" className={report.markers.found ? 'act' : 'act main'} onClick={putAway}>
          Put it away
        </button>
      </div>
    </section>
  );
}
