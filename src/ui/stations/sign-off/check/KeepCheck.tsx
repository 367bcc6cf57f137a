import { useState } from 'react';
import { checkResultOf } from '../../../../job/check-result.ts';
import type { Job } from '../../../../job/document.ts';
import { keptRecord } from '../../../../job/kept-record.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import type { JobRecord } from '../../../../job/records.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import { calibration } from '../../../session/calibration.ts';
import { acceptRecord } from '../../../session/job-session.ts';
import { newId } from '../../../session/new-id.ts';
import { conditionsNow } from '../../parts/conditions-now.ts';
import type { Checked, CheckedFile } from './CheckForm.tsx';

function recordOf(run: RunTrack, chosen: CheckedFile, { report, at, voltsPerFs }: Checked): JobRecord {
  const scale = calibration.get();
  // Typed by hand, or of another input, it carries no uncertainty that is known here.
  const isOurs = scale !== null && scale.voltsPerFs === voltsPerFs;
  const origin = { recording: chosen.name, run, at, voltsPerFs };
  return keptRecord({
    kind: 'check',
    id: newId(),
    at: new Date().toISOString(),
    conditions: { ...conditionsNow(isOurs), input: chosen.input },
    result: checkResultOf(report, { ...origin, voltsUncertaintyDb: isOurs ? scale.uncertaintyDb : null }),
  });
}

/** Makes the check a record of the job: in its report, under its sign-off, and to be compared with a year later. */
export function KeepCheck({
  job,
  run,
  chosen,
  checked,
  onKept,
}: {
  job: Job;
  run: RunTrack;
  chosen: CheckedFile;
  checked: Checked;
  onKept: () => void;
}) {
  const [state, setState] = useState<'open' | 'keeping' | 'kept'>('open');
  const [fault, setFault] = useState<string | null>(null);
  const keep = () => {
    if (state !== 'open') return;
    setState('keeping');
    acceptRecord(job.id, recordOf(run, chosen, checked)).then((why) => {
      setFault(why);
      setState(why === null ? 'kept' : 'open');
      if (why === null) onKept();
    });
  };
  if (state === 'kept') {
    return (
      <p role="status" className="recorded">
        <MarkSign mark="done" />
        <span>
          <b>Recorded.</b> It is in the job’s report, and a later visit can be held against it.
        </span>
      </p>
    );
  }
  return (
    <>
      <button type="button" className="act main" aria-disabled={state === 'keeping'} onClick={keep}>
        Accept this check
      </button>
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
    </>
  );
}
