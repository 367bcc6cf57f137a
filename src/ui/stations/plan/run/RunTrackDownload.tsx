import { useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import { type RunOptions, usualRunOptions } from '../../../../job/run-track/options.ts';
import { offerDownload } from '../../../session/download.ts';
import { type RunFileKind, runTrackZip } from '../../../session/run-track-zip.ts';
import { RunChoices } from './RunChoices.tsx';
import { lengthWords, type RunLength, runLength } from './run-length.ts';

/** The one track that checks the whole vehicle, with its length while it is put together. */
export function RunTrackDownload({ job }: { job: Job }) {
  const [changed, setChanged] = useState<Partial<RunOptions>>({});
  const [kind, setKind] = useState<RunFileKind>('wav');
  const [progress, setProgress] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState<string | null>(null);
  const options = { ...usualRunOptions(job), ...changed };
  const length = runLength(job, options);
  const make = async () => {
    if (busy || length.fault !== null) return;
    setFailed(null);
    setBusy(true);
    try {
      const zip = await runTrackZip(job, options, kind, (share) =>
        setProgress(`Rendering, ${Math.round(100 * share)} %…`),
      );
      offerDownload(zip, 'run-track.zip');
      setProgress('The run track is in your downloads. Keep its manifest: a recording is read by it.');
    } catch (error) {
      setProgress(null);
      setFailed(error instanceof Error ? error.message : String(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <section className="sheet run-track" aria-labelledby="run-track-title">
      <h2 id="run-track-title">Run track</h2>
      <p className="small">
        One track that checks the whole vehicle: the radio plays it once, it is recorded, and the rest is
        computed. You need a memory stick, and something that records.
      </p>
      <details>
        <summary>Choose what it holds</summary>
        <RunChoices
          job={job}
          options={options}
          kind={kind}
          onOptions={(change) => setChanged({ ...changed, ...change })}
          onKind={setKind}
        />
      </details>
      <LengthLine length={length} />
      {options.contents.includes('full') && (
        <p className="note over small">
          It plays each channel at full power for most of a second: once, never on repeat, and nobody’s ears
          beside a driver.
        </p>
      )}
      <div className="acts">
        <button
          type="button"
          className="act"
          aria-disabled={busy || length.fault !== null}
          onClick={() => void make()}
        >
          Download the run track (zip)
        </button>
      </div>
      <p role="status" className="small soft">
        {progress}
      </p>
      {failed !== null && <p className="wrong small">{failed}</p>}
    </section>
  );
}

function LengthLine({ length }: { length: RunLength }) {
  return (
    <>
      <p className="facts">
        Length{' '}
        <output
          aria-label="Length of the run track"
          data-reading="durationSeconds"
          data-value={length.seconds ?? ''}
          data-state={length.fault === null ? 'valid' : 'cannot-be-made'}
        >
          <b>{lengthWords(length.seconds)}</b>
        </output>
      </p>
      {length.fault !== null && <p className="wrong small">{length.fault}</p>}
    </>
  );
}
