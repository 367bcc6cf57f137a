import { useEffect, useState } from 'react';
import { type KeptRecording, recordingFile } from '../../../../audio/recording/recordings.ts';
import { moment } from '../../../format/moment.ts';
import { useObservable } from '../../../live/observable.ts';
import { offerDownload } from '../../../session/download.ts';
import {
  forgetRecording,
  lookForRecordings,
  recordings,
  recordingsFault,
} from '../../../session/recorder-session.ts';
import { useFocusBack } from '../../parts/use-focus-back.ts';
import { clockWords } from './length-words.ts';

function endingWords({ note }: KeptRecording): string | null {
  if (note.ending === 'stopped') return null;
  if (note.ending === 'repaired') return 'The page was closed while it recorded; the file was repaired.';
  return note.ending === 'open' ? 'It is being recorded.' : note.ending;
}

function Deleting({ name, onDone }: { name: string; onDone: () => void }) {
  return (
    <div className="second-thought">
      <p>
        <b>Delete {name} for good?</b> It cannot be brought back.
      </p>
      <div className="acts">
        <button type="button" className="act" onClick={() => void forgetRecording(name)}>
          Delete it
        </button>
        <button
          type="button"
          className="act main"
          // biome-ignore lint/a11y/noAutofocus: the safe answer takes the place of the button just pressed.
          autoFocus
          onClick={onDone}
        >
          Keep it
        </button>
      </div>
    </div>
  );
}

function Recording({ kept, onCheck }: { kept: KeptRecording; onCheck: (kept: KeptRecording) => void }) {
  const [deleting, setDeleting] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const ask = useFocusBack(deleting);
  const { name, shape, note, frames, isFinished } = kept;
  const ending = endingWords(kept);
  const save = () => {
    recordingFile(name).then(
      (file) => offerDownload(file, name),
      (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <li data-recording={name} data-frames={frames} data-rate={shape.sampleRateHz} data-finished={isFinished}>
      <p>
        <b>{moment(note.startedAt)}</b>, {clockWords(frames / shape.sampleRateHz)}
        <br />
        <span className="small soft">
          {note.source}, {shape.channelCount === 1 ? '1 channel' : `${shape.channelCount} channels`},{' '}
          {shape.sampleRateHz} Hz
          {note.overloads > 0 && `, input overloaded ${note.overloads} times`}
          {ending !== null && `. ${ending}`}
        </span>
      </p>
      {fault !== null && <p className="wrong small">{fault}</p>}
      {deleting ? (
        <Deleting name={name} onDone={() => setDeleting(false)} />
      ) : (
        <div className="acts">
          <button type="button" className="act" disabled={!isFinished} onClick={() => onCheck(kept)}>
            Check
          </button>
          <button type="button" className="act" disabled={!isFinished} onClick={save}>
            Save as WAV
          </button>
          <button
            ref={ask}
            type="button"
            className="act plain"
            disabled={!isFinished}
            onClick={() => setDeleting(true)}
          >
            Delete
          </button>
        </div>
      )}
    </li>
  );
}

/** What is kept in this browser, newest first; nothing is taken away but by hand. */
export function RecordingList({ onCheck }: { onCheck: (kept: KeptRecording) => void }) {
  const kept = useObservable(recordings);
  const fault = useObservable(recordingsFault);
  useEffect(() => void lookForRecordings(), []);
  return (
    <section className="sheet" aria-labelledby="recordings-title">
      <h2 id="recordings-title">Recordings in this browser</h2>
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
      {kept?.length === 0 && <p className="soft">None yet.</p>}
      <ul className="plainlist" aria-label="Recordings">
        {kept?.map((one) => (
          <Recording key={one.name} kept={one} onCheck={onCheck} />
        ))}
      </ul>
    </section>
  );
}
