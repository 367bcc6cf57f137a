import { useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import type { RunTrack } from '../../../../job/manifest.ts';
import type { CheckReport } from '../../../../procedure/check/check.ts';
import { checkFile } from '../../../check/check-file.ts';
import { MaybeNumberField } from '../../../fields/NumberField.tsx';
import { PointFields, pointsFor } from './PointFields.tsx';

/** What was checked, and as what. */
export interface Checked {
  report: CheckReport;
  at: readonly string[];
  voltsPerFs: number | null;
}

/** A WAV to check, and what is known of it. */
export interface CheckedFile {
  name: string;
  file: Blob;
  /** What it was recorded with; `null` where this is not known. */
  input: string | null;
  channelCount: number;
  at: readonly string[];
  voltsPerFs: number | null;
}

/** Where the recording was taken, and the check itself, with a bar while it works. */
export function CheckForm({
  job,
  run,
  chosen,
  onReport,
}: {
  job: Job;
  run: RunTrack;
  chosen: CheckedFile;
  onReport: (checked: Checked) => void;
}) {
  const [at, setAt] = useState<readonly string[]>(chosen.at);
  const [voltsPerFs, setVoltsPerFs] = useState(chosen.voltsPerFs);
  const [share, setShare] = useState<number | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const points = pointsFor(at, chosen.channelCount);
  const isByWire = points.some((point) => point !== 'cabin' && point !== 'none');
  const start = () => {
    if (share !== null) return;
    setShare(0);
    setFault(null);
    checkFile(chosen.file, { run, job, at: points, voltsPerFs }, setShare)
      .then(
        (report) => onReport({ report, at: points, voltsPerFs }),
        (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
      )
      .finally(() => setShare(null));
  };
  return (
    <section className="sheet" aria-labelledby="check-form-title">
      <h2 id="check-form-title">Check {chosen.name}</h2>
      <PointFields job={job} count={chosen.channelCount} at={at} onChange={setAt} />
      {isByWire && (
        <MaybeNumberField
          label="A full-scale sine is, volts RMS at the terminals (empty: not known)"
          value={voltsPerFs}
          above={0}
          onChange={setVoltsPerFs}
        />
      )}
      <button type="button" className="act main" aria-disabled={share !== null} onClick={start}>
        {share === null ? 'Check it' : `Checking, ${Math.floor(100 * share)} %`}
      </button>
      {share !== null && <progress max={1} value={share} aria-label="Check" />}
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
    </section>
  );
}
