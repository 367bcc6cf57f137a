import { useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { offerDownload } from '../../session/download.ts';
import { toneSetZip } from '../../session/tone-set-zip.ts';

/** The tracks of this job for a memory stick or disc, with their manifest. */
export function ToneSetDownload({ job }: { job: Job }) {
  const [progress, setProgress] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const make = async () => {
    if (busy) return;
    setBusy(true);
    setFault(null);
    try {
      const zip = await toneSetZip(job, (done, of) => setProgress(`Rendering track ${done + 1} of ${of}…`));
      offerDownload(zip, 'tone-set.zip');
      setProgress('The tone set is in your downloads. Unpack it onto a memory stick.');
    } catch (error) {
      setProgress(null);
      setFault(error instanceof Error ? error.message : String(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <section className="sheet tone-set" aria-labelledby="tone-set-title">
      <h2 id="tone-set-title">Tone set</h2>
      <p className="small">
        The tracks to play on the radio: a setting tone for each channel, checks for the input, noise and
        sweeps. Test tones at full power heat voice coils within seconds: play them with the gains down first.
      </p>
      <div className="acts">
        <button type="button" className="act" aria-disabled={busy} onClick={() => void make()}>
          Download the tone set (zip)
        </button>
      </div>
      <p role="status" className="small soft">
        {progress}
      </p>
      {fault !== null && <p className="wrong small">{fault}</p>}
    </section>
  );
}
