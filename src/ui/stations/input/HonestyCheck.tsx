import { Fragment, type ReactNode, useEffect, useState } from 'react';
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

type Piece = 'way' | 'take' | 'plays' | 'found' | 'steps' | 'accept';

/** What leads stands high: recording an honest input, putting right what was found in another and checking again. */
function orderOf(state: InputState | null): readonly Piece[] {
  if (state?.verdict == null) return ['way', 'take', 'plays'];
  if (state.verdict === 'honest') return ['accept', 'found', 'steps', 'way', 'take', 'plays'];
  return ['found', 'take', 'way', 'accept', 'steps', 'plays'];
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
  const honest = state?.verdict === 'honest';
  const pieces: Record<Piece, ReactNode> = {
    way: <ChoiceField label="The tone reaches it" value={way} choices={WAYS} onChange={setWay} />,
    take: (
      <TakeAction
        session={inputCheckSession}
        label="Check this input"
        main={main && !honest}
        why={listening ? null : 'Press Listen first.'}
        plan={() => ({ signal, purpose: null, request: { kind: 'steps', steps: task.steps }, seconds: 16 })}
      />
    ),
    plays: <SignalPanel signal={signal} track={trackFile(job, 'level-steps')} />,
    found: state !== null && (
      <FindingsList
        findings={state.findings}
        nothing={honest ? 'Nothing was found: every step came back as it was played.' : null}
      />
    ),
    steps: state !== null && <StepTable state={state} />,
    accept: job !== null && state !== null && (
      <AcceptRecord
        jobId={job.id}
        session={inputCheckSession}
        acceptance={state.acceptance}
        conditions={() => conditionsNow(false)}
        label="Accept this check"
        main={main && honest}
      />
    ),
  };
  const check = (
    <>
      <p>{state?.instruction}</p>
      {/* By key: each stays what it is when what leads changes, and so does the focus on it. */}
      {orderOf(state).map((piece) => (
        <Fragment key={piece}>{pieces[piece]}</Fragment>
      ))}
    </>
  );
  return (
    <section className="sheet honesty" aria-labelledby="honesty-title">
      <h2 id="honesty-title">Honesty check</h2>
      {!(main && earlier === null) && <Earlier check={earlier} job={job} />}
      {main ? (
        check
      ) : (
        // Without a job nothing leads here, and the check is still what a visitor may try.
        <details open={listening && job === null}>
          <summary>{earlier === null ? 'Check it' : 'Check it again'}</summary>
          <div className="fold-body">{check}</div>
        </details>
      )}
      <SaveRecording session={inputCheckSession} />
    </section>
  );
}
