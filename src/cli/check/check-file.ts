import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { wavRecording } from '../../audio/wav/wav-recording.ts';
import { checkTask } from '../../job/check-task.ts';
import type { Job } from '../../job/document.ts';
import type { RunTrack } from '../../job/manifest.ts';
import type { CheckReport } from '../../procedure/check/check.ts';
import { checkRecording } from '../../procedure/check/check-recording.ts';
import { FileBytes } from '../file-bytes.ts';
import { naming } from '../naming.ts';
import { UsageError } from '../usage-error.ts';

/** One recording to check: plain, so that it can be sent to a worker. */
export interface CheckFileTask {
  path: string;
  run: RunTrack;
  job: Job | null;
  at: string[];
  voltsPerFs: number | null;
}

/** What a progress bar counts. */
export const PARTS_PER_FILE = 1000;

async function withWav<T>(path: string, use: (info: WavInfo) => Promise<T>): Promise<T> {
  const bytes = await FileBytes.open(path);
  try {
    return await naming(path, async () => use(await openWav(bytes)));
  } catch (error) {
    // What the check itself says of a recording that does not fit.
    if (error instanceof RangeError) throw new UsageError(`${path}: ${error.message}`, { cause: error });
    throw error;
  } finally {
    await bytes.close();
  }
}

function taskFor({ run, job, at, voltsPerFs }: CheckFileTask, { channelCount }: WavInfo) {
  return checkTask(run, job, { at, channelCount, voltsPerFs });
}

/** Looks into a file without reading its samples. @throws UsageError where it cannot be checked as asked */
export async function lookInto(task: CheckFileTask): Promise<void> {
  await withWav(task.path, async (info) => {
    taskFor(task, info);
  });
}

/**
 * @param onDone told how many more of `PARTS_PER_FILE` are done
 * @throws UsageError when the file cannot be read, or holds what is no finite number
 */
export function checkFile(task: CheckFileTask, onDone: (parts: number) => void): Promise<CheckReport> {
  let told = 0;
  return withWav(task.path, (info) =>
    checkRecording(taskFor(task, info), wavRecording(info), (share) => {
      const done = Math.floor(PARTS_PER_FILE * share);
      onDone(done - told);
      told = done;
    }),
  );
}
