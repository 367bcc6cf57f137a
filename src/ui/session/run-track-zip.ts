/** Renders a run track into one zip file, with the manifest that its recording is read by. */
import { downloadZip } from 'client-zip';
import { FlacCopier } from '../../audio/flac/flac-copy.ts';
import { runWav } from '../../audio/wav/run-wav.ts';
import type { Job } from '../../job/document.ts';
import type { RunOptions } from '../../job/run-track/options.ts';
import { runManifest } from '../../job/run-track/run-manifest.ts';
import { TONE_SET_FORM } from './level-track.ts';

export type RunFileKind = 'wav' | 'flac';

const DITHER_SEED = 1;

/**
 * @param onShare told from time to time which share of it is done, so that the screen can say so
 * @throws RangeError with one sentence for a track that cannot be made
 */
export async function runTrackZip(
  job: Job,
  options: RunOptions,
  kind: RunFileKind,
  onShare: (share: number) => void,
): Promise<Blob> {
  const manifest = runManifest(job, options, TONE_SET_FORM);
  const [run] = manifest.tracks;
  const totalBytes = run.durationSeconds * manifest.sampleRateHz * ((2 * manifest.bits) / 8);
  const copier = kind === 'flac' ? new FlacCopier() : null;
  const pieces: Uint8Array<ArrayBuffer>[] = [];
  let done = 0;
  for (const piece of runWav(run, { ...TONE_SET_FORM, ditherSeed: DITHER_SEED })) {
    if (copier === null) pieces.push(piece);
    else copier.push(piece);
    done += piece.length;
    onShare(Math.min(1, done / totalBytes));
    // Lets the screen draw between two pieces.
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
  const sound = new Blob(copier === null ? pieces : copier.finish());
  const text = new Blob([`${JSON.stringify(manifest, null, 2)}\n`], { type: 'application/json' });
  const zip = downloadZip([
    { name: 'manifest.json', input: new File([text], 'manifest.json') },
    { name: run.file.replace(/wav$/, kind), input: new File([sound], run.file) },
  ]);
  return zip.blob();
}
