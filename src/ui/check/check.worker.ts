/** Checks a recorded run track off the page's thread. */
import { blobBytes } from '../../audio/wav/blob-bytes.ts';
import { openWav } from '../../audio/wav/open-wav.ts';
import { wavRecording } from '../../audio/wav/wav-recording.ts';
import type { CheckReport, CheckTask } from '../../procedure/check/check.ts';
import { checkRecording } from '../../procedure/check/check-recording.ts';

export interface CheckCommand {
  task: CheckTask;
  file: Blob;
}

export type CheckMessage = { share: number } | { report: CheckReport } | { fault: string };

function tell(message: CheckMessage): void {
  self.postMessage(message);
}

self.onmessage = async ({ data: { task, file } }: MessageEvent<CheckCommand>) => {
  try {
    const recording = wavRecording(await openWav(blobBytes(file)));
    tell({ report: await checkRecording(task, recording, (share) => tell({ share })) });
  } catch (error) {
    tell({ fault: error instanceof Error ? error.message : String(error) });
  }
};
