/** Checks a recorded run track off the page's thread. */
import { type LentRecording, lentRecording } from '../../audio/recording/lent-recording.ts';
import { blobBytes } from '../../audio/wav/blob-bytes.ts';
import { openWav } from '../../audio/wav/open-wav.ts';
import { wavRecording } from '../../audio/wav/wav-recording.ts';
import type { CheckReport, CheckTask } from '../../procedure/check/check.ts';
import { checkRecording } from '../../procedure/check/check-recording.ts';

/** What is checked: a file, or what is written so far of a recording that still runs. */
export type CheckSource =
  | { kind: 'file'; file: Blob }
  | ({ kind: 'running'; port: MessagePort } & Pick<
      LentRecording,
      'sampleRateHz' | 'channelCount' | 'frames'
    >);

export interface CheckCommand {
  task: CheckTask;
  source: CheckSource;
}

export type CheckMessage = { share: number } | { report: CheckReport } | { fault: string };

function tell(message: CheckMessage): void {
  self.postMessage(message);
}

async function recordingOf(source: CheckSource) {
  if (source.kind === 'file') return wavRecording(await openWav(blobBytes(source.file)));
  const { port, sampleRateHz, channelCount, frames } = source;
  return lentRecording(port, { sampleRateHz, channelCount }, frames);
}

self.onmessage = async ({ data: { task, source } }: MessageEvent<CheckCommand>) => {
  try {
    const recording = await recordingOf(source);
    tell({ report: await checkRecording(task, recording, (share) => tell({ share })) });
  } catch (error) {
    tell({ fault: error instanceof Error ? error.message : String(error) });
  }
};
