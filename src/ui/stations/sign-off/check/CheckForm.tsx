import { useRef, useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import { MaybeNumberField } from '../../../fields/NumberField.tsx';
import { type CheckedFile, putAway, startCheck } from './check-work.ts';
import { PointFields, pointsFor } from './PointFields.tsx';

/** Where the recording was taken, and the check itself, with a bar while it works. */
export function CheckForm({
  job,
  run,
  chosen,
  share,
}: {
  job: Job;
  run: RunTrack;
  chosen: CheckedFile;
  /** How far a check has come, 0 to 1; `null` where none runs. */
  share: number | null;
}) {
  const [at, setAt] = useState<readonly string[]>(chosen.at);
  const [voltsPerFs, setVoltsPerFs] = useState(chosen.voltsPerFs);
  const form = useRef<HTMLElement>(null);
  const points = pointsFor(at, chosen.channelCount);
  const isByWire = points.some((point) => point !== 'cabin' && point !== 'none');
  const start = () => {
    // What stands there and was not taken would be left out without a word.
    const wrong = form.current?.querySelector<HTMLElement>('[aria-invalid="true"]');
    if (wrong) wrong.focus();
    else startCheck(job, run, { at: points, voltsPerFs });
  };
  return (
    <section ref={form} className="sheet" aria-labelledby="check-form-title">
      <h2 id="check-form-title" tabIndex={-1}>
        Check {chosen.name}
      </h2>
      <PointFields job={job} count={chosen.channelCount} at={at} onChange={setAt} />
      {isByWire && (
        <MaybeNumberField
          label="A full-scale sine is, volts RMS at the terminals (empty: not known)"
          value={voltsPerFs}
          above={0}
          onChange={setVoltsPerFs}
        />
      )}
      <div className="acts">
        <button type="button" className="act main" aria-disabled={share !== null} onClick={start}>
          {share === null ? 'Check it' : `Checking, ${Math.floor(100 * share)} %`}
        </button>
        <button type="button" className="act" onClick={putAway}>
          Put it away
        </button>
      </div>
      {share !== null && <progress max={1} value={share} aria-label="Check" />}
    </section>
  );
}
