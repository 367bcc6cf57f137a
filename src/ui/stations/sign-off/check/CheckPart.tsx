import { useEffect, useState } from 'react';
import { type KeptRecording, recordingFile } from '../../../../audio/recording/recordings.ts';
import type { Job } from '../../../../job/document.ts';
import { CautionsGate } from '../../../cautions/Cautions.tsx';
import { cautionsRead } from '../../../cautions/confirmed.ts';
import { channelsOf } from '../../../check/check-file.ts';
import { useObservable } from '../../../live/observable.ts';
import { RigPanel } from '../../../rig/RigPanel.tsx';
import { chosenSource } from '../../../session/listening.ts';
import { recorder, recordings } from '../../../session/recorder-session.ts';
import { StationHelp } from '../../parts/StationHelp.tsx';
import { type Checked, type CheckedFile, CheckForm } from './CheckForm.tsx';
import { CheckRecords } from './CheckRecords.tsx';
import { CheckResult } from './CheckResult.tsx';
import './check.css';
import { KeepCheck } from './KeepCheck.tsx';
import { clockWords } from './length-words.ts';
import { PointFields } from './PointFields.tsx';
import { PracticeRadio } from './PracticeRadio.tsx';
import { RecordAction } from './RecordAction.tsx';
import { RecordingList } from './RecordingList.tsx';
import { SoFar } from './SoFar.tsx';
import { type ChosenTrack, ownTrack, TrackChoice } from './TrackChoice.tsx';
import { useInputChannels } from './use-channels.ts';
import { useCheckWhileRecording } from './use-check-while-recording.ts';
import { usePoints } from './use-points.ts';

/** Checks a vehicle from one recording of the run track. */
export function CheckPart({ job }: { job: Job }) {
  const [track, setTrack] = useState<ChosenTrack>(() => ownTrack(job));
  const [chosen, setChosen] = useState<CheckedFile | null>(null);
  const [checked, setChecked] = useState<Checked | null>(null);
  const [isKept, setKept] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const count = useInputChannels();
  const { phase, endedName } = useObservable(recorder);
  const kept = useObservable(recordings);
  const isRead = useObservable(cautionsRead);
  const onRig = useObservable(chosenSource).kind === 'rig';
  const asksFirst = !isRead && !onRig;
  const { reached, points, say } = usePoints(job, onRig, count);
  const soFar = useCheckWhileRecording({ run: track.run, job, at: points });
  const choose = (making: Promise<CheckedFile>) => {
    setChecked(null);
    setKept(false);
    setFault(null);
    making.then(setChosen, (error: unknown) =>
      setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  const ended = kept?.find(({ name, frames }) => name === endedName && frames > 0) ?? null;
  // What was just recorded is what is wanted next.
  // biome-ignore lint/correctness/useExhaustiveDependencies: chosen once when it ends, not at every drawing.
  useEffect(() => {
    if (ended !== null) choose(asChosen(ended));
  }, [ended]);
  return (
    <div className="check-part">
      <p className="do">{instruction(phase, track, count, onRig)}</p>
      {asksFirst && <CautionsGate title="Before the run track plays" />}
      {!asksFirst && count !== null && phase === 'idle' && (
        <PointFields job={reached} count={count} at={points} onChange={say} />
      )}
      {!asksFirst && <RecordAction at={points} main={chosen === null || isKept} />}
      {onRig && <PracticeRadio job={reached} run={track.run} point={points[0] ?? 'cabin'} />}
      <SoFar soFar={soFar} />
      {chosen !== null && checked === null && (
        <CheckForm key={chosen.name} job={job} run={track.run} chosen={chosen} onReport={setChecked} />
      )}
      {chosen !== null && checked !== null && (
        <CheckResult job={job} report={checked.report} name={chosen.name}>
          <KeepCheck
            job={job}
            run={track.run}
            chosen={chosen}
            checked={checked}
            onKept={() => setKept(true)}
          />
        </CheckResult>
      )}
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
      <ChooseFile onFile={(file) => choose(fromFile(file))} />
      <CheckRecords job={job} />
      <RecordingList onCheck={(one) => choose(asChosen(one))} />
      <TrackChoice job={job} track={track} onChange={setTrack} />
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

function instruction(phase: string, { run }: ChosenTrack, count: number | null, onRig: boolean): string {
  const length = clockWords(run.durationSeconds);
  if (phase === 'recording') {
    const playing = onRig ? `The radio plays ${run.file}` : `Play ${run.file} on the radio`;
    return `${playing} (${length}); once its end is heard, the recording stops by itself.`;
  }
  if (count === null) return 'Open the input, or choose a recording that was made elsewhere.';
  if (onRig) return `Say where the input is and press Record: the radio then plays ${run.file} (${length}).`;
  return `Say where the input is, press Record, then play ${run.file} of the tone set (${length}).`;
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
  return { name, file: await recordingFile(name), input: source, channelCount, at, voltsPerFs };
}

async function fromFile(file: File): Promise<CheckedFile> {
  const channelCount = await channelsOf(file);
  return { name: file.name, file, input: null, channelCount, at: [], voltsPerFs: null };
}
