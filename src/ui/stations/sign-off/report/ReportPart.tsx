import { useMemo, useRef, useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import { JobRefused } from '../../../../job/refused.ts';
import { type ReportFiles, reportFiles } from '../../../../job/report/report-files.ts';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';
import { offerDownload } from '../../../session/download.ts';
import { StationHelp } from '../../parts/StationHelp.tsx';
import { signOffWords } from '../sign-off-words.ts';
import './report.css';

/** Stands for the job as it is, among the ids of sign-offs. */
const AS_IT_IS = '';

function choicesOf(job: Job): { value: string; words: string }[] {
  const signed = job.signOffs
    .toReversed()
    .map((one) => ({ value: one.id, words: `As signed: ${signOffWords(one)}` }));
  return [{ value: AS_IT_IS, words: 'As it is now' }, ...signed];
}

/** What was signed by a version that this one cannot read is told instead of shown. */
function filesOf(job: Job, signOffId: string): ReportFiles | string {
  try {
    return reportFiles(job, signOffId === AS_IT_IS ? null : signOffId);
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}

function Actions({ job, files, onPrint }: { job: Job; files: ReportFiles; onPrint: () => void }) {
  const page = () => new Blob([files.html], { type: 'text/html;charset=utf-8' });
  const table = () => new Blob([files.csv], { type: 'text/csv;charset=utf-8' });
  return (
    <div className="acts">
      <button type="button" className="act main big" onClick={onPrint}>
        Print, or save as PDF
      </button>
      <button type="button" className="act" onClick={() => offerDownload(page(), `${job.id}.report.html`)}>
        Download the page
      </button>
      <button type="button" className="act" onClick={() => offerDownload(table(), `${job.id}.records.csv`)}>
        Download all records as CSV
      </button>
    </div>
  );
}

/** The job's report, as the command line writes it: looked at here, printed, or kept as a file. */
export function ReportPart({ job }: { job: Job }) {
  const [chosen, choose] = useState(AS_IT_IS);
  const frame = useRef<HTMLIFrameElement>(null);
  const choices = choicesOf(job);
  const signOffId = choices.some(({ value }) => value === chosen) ? chosen : AS_IT_IS;
  const files = useMemo(() => filesOf(job, signOffId), [job, signOffId]);
  if (typeof files === 'string') {
    return <p className="note over">{files}</p>;
  }
  return (
    <>
      <p className="do">Look the report over, then print it or keep it as a file.</p>
      <StationHelp
        does="This puts plan, reading, tolerance and conditions side by side on one page that opens anywhere without a network."
        needs="It needs nothing more than what was recorded; what is missing says so on it."
      />
      {choices.length > 1 && (
        <ChoiceField label="Report of the job" value={signOffId} choices={choices} onChange={choose} />
      )}
      <Actions job={job} files={files} onPrint={() => frame.current?.contentWindow?.print()} />
      <p role="status" className="small">
        <b>{files.report.verdict.text}.</b> {files.report.verdict.sentence}
      </p>
      <iframe
        ref={frame}
        className="report-frame"
        title="The report"
        sandbox="allow-same-origin allow-modals"
        srcDoc={files.html}
      />
    </>
  );
}
