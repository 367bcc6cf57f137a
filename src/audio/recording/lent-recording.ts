import type { ReadAnswer, ReadRequest } from './recorder-command.ts';
import type { RecordingShape } from './recording-header.ts';

/** The first frames of a recording that still runs. */
export interface LentRecording extends RecordingShape {
  frames: number;
  /** A fresh array for each channel. @throws Error with one sentence once the recording has ended */
  read(startFrame: number, frames: number): Promise<Float32Array[]>;
}

/** @param port as the recorder lent it; used by nobody else */
export function lentRecording(port: MessagePort, shape: RecordingShape, frames: number): LentRecording {
  const waiting: { resolve(channels: Float32Array[]): void; reject(why: Error): void }[] = [];
  port.onmessage = ({ data }: MessageEvent<ReadAnswer>) => {
    const one = waiting.shift();
    if ('fault' in data) one?.reject(new Error(data.fault));
    else one?.resolve(data.channels);
  };
  return {
    ...shape,
    frames,
    read: (startFrame, count) =>
      new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        port.postMessage({ startFrame, frames: count } satisfies ReadRequest);
      }),
  };
}
