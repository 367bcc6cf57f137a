import { useState } from 'react';
import { checkResultOf } from '../../../../job/check-result.ts';
import type { Job } from '../../../../job/document.ts';
import { keptRecord } from '../../../../job/kept-record.ts';
import type { JobRecord } from '../../../../job/records.ts';
import { useObservable } from '../../../live/observable.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import { calibration } from '../../../session/calibration.ts';
import { acceptRecord } from '../../../session/job-session.ts';
import { chosenSource } from '../../../session/listening.ts';
import { newId } from '../../../session/new-id.ts';
import { ConditionsForm } from '../../gain/ConditionsForm.tsx';
import { conditionsNow } from '../../parts/conditions-now.ts';
import { useFocusHere } from '../../parts/focus-here.ts';
import { type Checked, type CheckedFile, workKept } from './check-work.ts';

function recordOf(chosen: CheckedFile, { report, run, at, voltsPerFs }: Checked): JobRecord {
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
  chosen,
  checked,
  isKept,
}: {
  job: Job;
  chosen: CheckedFile;
  checked: Checked;
  isKept: boolean;
}) {
  const [isKeeping, setKeeping] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const onRig = useObservable(chosenSource).kind === 'rig';
  const keep = () => {
    if (isKeeping) return;
    setKeeping(true);
    acceptRecord(job.id, recordOf(chosen, checked)).then((why) => {
      setKeeping(false);
      setFault(why);
      if (why === null) workKept();
    });
  };
  if (isKept) return <Kept />;
  return (
    <>
      {!onRig && (
        <section aria-labelledby="check-conditions-title" className="stack">
          <h3 id="check-conditions-title">Under which conditions it was recorded</h3>
          <ConditionsForm key={job.id} jobId={job.id} />
          <p className="small soft">
            A later visit can be held against this one where volume step and speaker plug are noted.
          </p>
        </section>
      )}
      <button type="button" className="act main" aria-disabled={isKeeping} onClick={keep}>
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

function Kept() {
  const here = useFocusHere<HTMLParagraphElement>();
  return (
    <p ref={here} tabIndex={-1} role="status" className="recorded">
      <MarkSign mark="done" />
      <span>
        <b>Recorded.</b> It is in the job’s report, and a later visit can be held against it.
      </span>
    </p>
  );
}
