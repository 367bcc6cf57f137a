import type { CaptureCommand } from './capture-command.ts';

/** From the page to the Worker that reads a track. */
export type TrackCommand =
  | { type: 'open'; readable: ReadableStream<AudioFrames>; port: MessagePort }
  | Exclude<CaptureCommand, { type: 'sink' }>;

/** From that Worker to the page. */
export type TrackReport =
  | { type: 'format'; sampleRateHz: number; channelCount: number }
  | { type: 'failed'; sentence: string };

/** The part of WebCodecs' AudioData that is used here. */
export interface AudioFrames {
  readonly numberOfFrames: number;
  readonly numberOfChannels: number;
  readonly sampleRate: number;
  copyTo(target: Float32Array, options: { planeIndex: number; format: 'f32-planar' }): void;
  close(): void;
}
