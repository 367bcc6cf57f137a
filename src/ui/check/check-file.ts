/** The page's end of a check: looks into the file, and leaves the work to a Worker of its own. */
import { blobBytes } from '../../audio/wav/blob-bytes.ts';
import { openWav } from '../../audio/wav/open-wav.ts';
import { checkTask } from '../../job/check-task.ts';
import type { Job } from '../../job/document.ts';
import type { RunTrack } from '../../job/manifest.ts';
import type { CheckReport, CheckTask } from '../../procedure/check/check.ts';
import type { CheckCommand, CheckMessage, CheckSource } from './check.worker.ts';

/** What a recording is held against. */
export interface CheckGround {
  run: RunTrack;
  job: Job;
  at: readonly string[];
  voltsPerFs: number | null;
}

/** @throws WavError for a file that is no WAV file */
export async function channelsOf(file: Blob): Promise<number> {
  return (await openWav(blobBytes(file))).channelCount;
}

/**
 * @param onProgress told how far it has come, 0 to 1
 * @throws Error with one sentence where the file cannot be checked as asked
 */
export async function checkFile(
  file: Blob,
  ground: CheckGround,
  onProgress: (share: number) => void,
): Promise<CheckReport> {
  const source = { kind: 'file', file } as const;
  return inWorker(taskFor(ground, await channelsOf(file)), source, onProgress);
}

/**
 * Checks what is written so far of the recording under way; what it does not hold yet is missing.
 *
 * @throws Error with one sentence, also where the recording ends meanwhile
 */
export function checkRunning(
  source: Extract<CheckSource, { kind: 'running' }>,
  ground: CheckGround,
): Promise<CheckReport> {
  return inWorker(taskFor(ground, source.channelCount), source, () => {});
}

function taskFor({ run, job, at, voltsPerFs }: CheckGround, channelCount: number): CheckTask {
  return checkTask(run, job, { at, channelCount, voltsPerFs });
}

function inWorker(
  task: CheckTask,
  source: CheckSource,
  onProgress: (share: number) => void,
): Promise<CheckReport> {
  const worker = new Worker(new URL('./check.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<CheckReport>((resolve, reject) => {
    worker.onerror = (event) => reject(new Error(`The check stopped: ${event.message}`));
    worker.onmessage = ({ data }: MessageEvent<CheckMessage>) => {
      if ('share' in data) onProgress(data.share);
      else if ('report' in data) resolve(data.report);
      else reject(new Error(data.fault));
    };
    const transfer = source.kind === 'running' ? [source.port] : [];
    worker.postMessage({ task, source } satisfies CheckCommand, transfer);
  }).finally(() => worker.terminate());
}
