import { useEffect, useMemo, useRef } from 'react';
import { type KeptRecording, recordingFile } from '../../../../audio/recording/recordings.ts';
import type { Job } from '../../../../job/document.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import { CautionsGate } from '../../../cautions/Cautions.tsx';
import { cautionsRead } from '../../../cautions/confirmed.ts';
import { channelsOf } from '../../../check/check-file.ts';
import { useObservable } from '../../../live/observable.ts';
import { RigPanel } from '../../../rig/RigPanel.tsx';
import { chosenSource } from '../../../session/listening.ts';
import { newId } from '../../../session/new-id.ts';
import { recorder, recordings } from '../../../session/recorder-session.ts';
import { StationHelp } from '../../parts/StationHelp.tsx';
import { CheckForm } from './CheckForm.tsx';
import { CheckRecords } from './CheckRecords.tsx';
import { CheckResult } from './CheckResult.tsx';
import './check.css';
import { checkInstruction } from './check-words.ts';
import {
  type CheckedFile,
  type CheckWork,
  checkWork,
  chooseFile,
  chooseTrack,
  NO_WORK,
  openWork,
} from './check-work.ts';
import { KeepCheck } from './KeepCheck.tsx';
import { PointFields } from './PointFields.tsx';
import { PracticeRadio } from './PracticeRadio.tsx';
import { RecordAction } from './RecordAction.tsx';
import { RecordingList } from './RecordingList.tsx';
import { SoFar } from './SoFar.tsx';
import { ownTrack, TrackChoice } from './TrackChoice.tsx';
import { useInputChannels } from './use-channels.ts';
import { useCheckWhileRecording } from './use-check-while-recording.ts';
import { usePoints } from './use-points.ts';

/** The job's file and result, whoever of them there is, and the track that they are held against. */
function useCheckWork(job: Job) {
  useEffect(() => openWork(job.id), [job.id]);
  const stored = useObservable(checkWork);
  const work = stored.jobId === job.id ? stored : NO_WORK;
  const own = useMemo(() => ownTrack(job), [job]);
  return { work, track: work.track ?? own };
}

/** What was just recorded is what is wanted next: once, and not again whenever this part is opened. */
function useLastRecording(): void {
  const { endedName } = useObservable(recorder);
  const kept = useObservable(recordings);
  const ended = kept?.find(({ name, frames }) => name === endedName && frames > 0) ?? null;
  useEffect(() => {
    if (ended === null || ended.name === lastTaken) return;
    lastTaken = ended.name;
    chooseFile(ended.name, asChosen(ended));
  }, [ended]);
}

let lastTaken: string | null = null;

/** A file that was chosen, or what came out of its check, is gone to by eye and keyboard; coming back moves nothing. */
function useGoTo(step: unknown) {
  const place = useRef<HTMLDivElement>(null);
  const before = useRef(step);
  useEffect(() => {
    if (before.current === step) return;
    before.current = step;
    if (step !== null) place.current?.querySelector('h2')?.focus();
  }, [step]);
  return place;
}

/** Checks a vehicle from one recording of the run track. */
export function CheckPart({ job }: { job: Job }) {
  const { work, track } = useCheckWork(job);
  const { chosen, checked, isKept } = work;
  const count = useInputChannels();
  const { phase } = useObservable(recorder);
  const isRead = useObservable(cautionsRead);
  const onRig = useObservable(chosenSource).kind === 'rig';
  const asksFirst = !isRead && !onRig;
  const { reached, points, say } = usePoints(job, onRig, count);
  const soFar = useCheckWhileRecording({ run: track.run, job, at: points });
  const atFile = useGoTo(checked ?? chosen?.id ?? null);
  useLastRecording();
  // One thing at a time: a file at hand is checked, accepted or put away before the next is recorded.
  const mayRecord = phase !== 'idle' || chosen === null || isKept;
  const seen = { phase, run: track.run, work, asksFirst, isOpen: count !== null, onRig };
  return (
    <div className="check-part">
      <p className="do">{checkInstruction(seen)}</p>
      {mayRecord && asksFirst && <CautionsGate title="Before the run track plays" />}
      {mayRecord && !asksFirst && count !== null && phase === 'idle' && (
        <PointFields job={reached} count={count} at={points} onChange={say} />
      )}
      {mayRecord && !asksFirst && <RecordAction at={points} />}
      {onRig && <PracticeRadio job={reached} run={track.run} point={points[0] ?? 'cabin'} />}
      <SoFar soFar={soFar} />
      <div ref={atFile} className="stack">
        <FileAtHand job={job} work={work} run={track.run} />
      </div>
      <ChooseFile onFile={(file) => chooseFile(file.name, fromFile(file))} />
      <CheckRecords job={job} />
      <RecordingList onCheck={(one) => chooseFile(one.name, asChosen(one))} />
      <TrackChoice
        job={job}
        track={track}
        onChange={(next) => chooseTrack(next.from === null ? null : next)}
      />
      {onRig && phase === 'idle' && (
        <RigPanel
          show={points[0] === 'cabin' ? ['volume', 'position'] : ['volume']}
          channels={reached.channels}
        />
      )}
      <StationHelp
        does="One recording of the run track is found by its markers, cut into its parts, and each part judged for where it was recorded."
        needs="You need the job’s tone set on a stick for the radio, and an input at a channel’s terminals or a microphone in the cabin."
      />
    </div>
  );
}

/** The recording that was chosen: to be checked, or as it was judged. */
function FileAtHand({ job, work, run }: { job: Job; work: CheckWork; run: RunTrack }) {
  const { chosen, checked, share, isKept, fault } = work;
  return (
    <>
      {chosen !== null && checked === null && (
        <CheckForm key={chosen.id} job={job} run={run} chosen={chosen} share={share} />
      )}
      {chosen !== null && checked !== null && (
        <CheckResult job={job} report={checked.report} name={chosen.name}>
          {checked.report.markers.found && (
            <KeepCheck job={job} chosen={chosen} checked={checked} isKept={isKept} />
          )}
        </CheckResult>
      )}
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
    </>
  );
}

function ChooseFile({ onFile }: { onFile: (file: File) => void }) {
  return (
    <label className="field">
      Or choose a WAV file from another recorder
      <input
        type="file"
        accept=".wav,audio/wav,audio/x-wav"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file !== undefined) onFile(file);
        }}
      />
    </label>
  );
}

async function asChosen({ name, shape, note }: KeptRecording): Promise<CheckedFile> {
  const { at, voltsPerFs, source } = note;
  const { channelCount } = shape;
  const file = await recordingFile(name);
  return { id: newId(), name, file, input: source, channelCount, at, voltsPerFs };
}

async function fromFile(file: File): Promise<CheckedFile> {
  const channelCount = await channelsOf(file);
  return { id: newId(), name: file.name, file, input: null, channelCount, at: [], voltsPerFs: null };
}
