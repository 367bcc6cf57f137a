import type { Job } from '../document.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, type RunTrack } from '../manifest.ts';
import type { RunOptions } from './options.ts';
import { runTrack } from './run-track.ts';

/**
 * A tone set of the run track alone.
 *
 * @throws RangeError as `runTrack` does
 */
export function runManifest(
  job: Job | null,
  options: RunOptions,
  form: { sampleRateHz: number; bits: 16 | 24 },
): Manifest & { tracks: [RunTrack] } {
  return {
    format: MANIFEST_FORMAT,
    version: MANIFEST_VERSION,
    ...form,
    jobId: job?.id ?? null,
    tracks: [{ ...runTrack(job, options, form.sampleRateHz), file: '01-run.wav' }],
  };
}
