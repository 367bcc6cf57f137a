/** The page's end of the Worker that reads takes. */
import type { ReadingFor, TakeReading, TakeRequest } from '../../procedure/take/read-take.ts';
import type { Take } from '../../procedure/take/take.ts';
import type { ReadTakeCommand, ReadTakeReport } from './read-take.worker.ts';

interface Awaited {
  resolve(reading: TakeReading): void;
  reject(why: Error): void;
}

let worker: Worker | null = null;
let lastId = 0;
const awaited = new Map<number, Awaited>();

function reader(): Worker {
  if (worker !== null) return worker;
  worker = new Worker(new URL('./read-take.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = ({ data }: MessageEvent<ReadTakeReport>) => {
    const one = awaited.get(data.id);
    awaited.delete(data.id);
    if ('fault' in data) one?.reject(new Error(data.fault));
    else one?.resolve(data.reading);
  };
  worker.onerror = (event) => {
    for (const one of awaited.values()) one.reject(new Error(`The recording was not read: ${event.message}`));
    awaited.clear();
    worker = null;
  };
  return worker;
}

/**
 * Reads a take in the Worker; the take itself stays here, to be saved.
 *
 * @throws Error with one sentence where it cannot be read for what was asked
 */
export function readTakeAside<R extends TakeRequest>(request: R, take: Take): Promise<ReadingFor<R>> {
  lastId += 1;
  const id = lastId;
  return new Promise((resolve, reject) => {
    awaited.set(id, { resolve: (reading) => resolve(reading as ReadingFor<R>), reject });
    reader().postMessage({ id, request, take } satisfies ReadTakeCommand);
  });
}
