import type { RecordingNote } from './recording-note.ts';
import type { RecordedSoFar } from './recording-writer.ts';

/** Folder of the page's own file system that holds recordings. */
export const RECORDINGS_FOLDER = 'recordings';

/** From the page to the recorder's Worker. */
export type RecorderCommand =
  /** Fills in the headers of recordings whose page died. */
  | { type: 'repair' }
  /** Makes the file; samples come through `port` once it is there. */
  | { type: 'open'; name: string; note: RecordingNote; port: MessagePort }
  /** Hands out what is written so far through `port`, to whoever asks there. */
  | { type: 'lend'; port: MessagePort };

/** What is asked through a lent port: a stretch that is written already. */
export interface ReadRequest {
  startFrame: number;
  frames: number;
}

/** An answer, in the order of the requests. */
export type ReadAnswer = { channels: Float32Array<ArrayBuffer>[] } | { fault: string };

/** From the recorder's Worker to the page. */
export type RecorderReport =
  | { type: 'repaired'; names: string[] }
  /** The file is there: samples may come. */
  | { type: 'opened' }
  | { type: 'so-far'; soFar: RecordedSoFar; sampleRateHz: number; channelCount: number }
  /** @property sentence why, where nobody asked for it; what was recorded is kept */
  | { type: 'ended'; name: string; frames: number; sentence: string | null }
  /** Nothing was recorded, or nothing could be repaired. */
  | { type: 'failed'; sentence: string };
