import type { CaptureCommand } from '../capture/capture-command.ts';

/** From the page to the Worker that reads a WAV file. */
export type FileCommand =
  | { type: 'open'; file: Blob; loop: boolean; port: MessagePort }
  | Exclude<CaptureCommand, { type: 'sink' }>;

/** From that Worker to the page. `sentence` is fit to be shown. */
export type FileReport =
  | { type: 'opened'; sampleRateHz: number; channelCount: number }
  | { type: 'ended' }
  | { type: 'bad-file'; sentence: string };
