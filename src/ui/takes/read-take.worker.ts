/** Reads takes off the page's thread: a sweep's response takes longer than a frame. */
import { readTake, type TakeReading, type TakeRequest } from '../../procedure/take/read-take.ts';
import type { Take } from '../../procedure/take/take.ts';

export interface ReadTakeCommand {
  id: number;
  request: TakeRequest;
  take: Take;
}

export type ReadTakeReport = { id: number; reading: TakeReading } | { id: number; fault: string };

self.onmessage = ({ data }: MessageEvent<ReadTakeCommand>) => {
  const { id, request, take } = data;
  try {
    self.postMessage({ id, reading: readTake(request, take) } satisfies ReadTakeReport);
  } catch (error) {
    const fault = error instanceof Error ? error.message : String(error);
    self.postMessage({ id, fault } satisfies ReadTakeReport);
  }
};
