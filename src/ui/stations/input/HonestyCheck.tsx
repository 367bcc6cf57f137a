import { useEffect, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import type { RecordOf } from '../../../job/records.ts';
import type { InputState, InputTask } from '../../../procedure/input/input.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { moment } from '../../format/moment.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { inputCheckSession, inputCheckTask } from '../../session/input-check.ts';
import { trackFile } from '../../session/level-track.ts';
import { useStation } from '../../session/station-session.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import type { Signal } from '../../signal/signal.ts';
import { AcceptRecord } from '../parts/AcceptRecord.tsx';
import { conditionsNow } from '../parts/conditions-now.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { SaveRecording } from '../parts/SaveRecording.tsx';
import { TakeAction } from '../parts/TakeAction.tsx';
import { StepTable } from './StepTable.tsx';

const WAYS = [
  { value: 'wire', words: 'by wire' },
  { value: 'air', words: 'by air, with a microphone' },
] as const;

function steppedTone({ steps }: InputTask): Signal {
  return { spec: steps, channels: 'both', description: 'the stepped tone', loop: false };
}

/** What an earlier check said of this input. */
function Earlier({ check, job }: { check: RecordOf<'input'> | null; job: Job | null }) {
  if (job === null) return <p role="status">Without a job the check can be made, and is not recorded.</p>;
  if (check === null) return <p role="status">This input has not been checked on this job.</p>;
  const honest = check.result.verdict === 'honest';
  return (
    <p role="status">
      <MarkSign mark={honest ? 'done' : 'out-of-tolerance'} />{' '}
      {honest ? 'Checked: it passes on what it is given' : 'Checked: it does not pass on what it is given'},{' '}
      {moment(check.at)}.
    </p>
  );
}

/** What was found, and the button that records it. Ahead of another check: that is what comes next. */
function Found({ job, state, main }: { job: Job | null; state: InputState | null; main: boolean }) {
  if (state?.verdict == null) return null;
  const honest = state.verdict === 'honest';
  return (
    <>
      {job !== null && (
        <AcceptRecord
          jobId={job.id}
          session={inputCheckSession}
          acceptance={state.acceptance}
          conditions={() => conditionsNow(false)}
          label="Accept this check"
          main={main && honest}
        />
      )}
      <FindingsList
        findings={state.findings}
        nothing={honest ? 'Nothing was found: every step came back as it was played.' : null}
      />
      <StepTable state={state} />
    </>
  );
}

/** Whether this input may be believed, whatever the browser says of it. */
export function HonestyCheck({
  job,
  listening,
  earlier,
  main,
}: {
  job: Job | null;
  listening: boolean;
  earlier: RecordOf<'input'> | null;
  main: boolean;
}) {
  const [way, setWay] = useState<InputTask['way']>('wire');
  useEffect(() => {
    inputCheckSession.open(inputCheckTask(way));
    return () => inputCheckSession.close();
  }, [way]);
  const state = useStation(inputCheckSession);
  const task = inputCheckTask(way);
  const signal = steppedTone(task);
  const check = (
    <>
      <p>{state?.instruction}</p>
      <Found job={job} state={state} main={main} />
      <ChoiceField label="The tone reaches it" value={way} choices={WAYS} onChange={setWay} />
      <SignalPanel signal={signal} track={trackFile(job, 'level-steps')} />
      <TakeAction
        session={inputCheckSession}
        label="Check this input"
        // Once it is known, recording it leads; a finding is put right first.
        main={main && state?.verdict !== 'honest'}
        why={listening ? null : 'Press Listen first.'}
        plan={() => ({ signal, purpose: null, request: { kind: 'steps', steps: task.steps }, seconds: 16 })}
      />
    </>
  );
  return (
    <section className="sheet honesty" aria-labelledby="honesty-title">
      <h2 id="honesty-title">Honesty check</h2>
      {!(main && earlier === null) && <Earlier check={earlier} job={job} />}
      {main ? (
        check
      ) : (
        <details>
          <summary>{earlier === null ? 'Check it' : 'Check it again'}</summary>
          <div className="fold-body">{check}</div>
        </details>
      )}
      <SaveRecording session={inputCheckSession} />
    </section>
  );
}
