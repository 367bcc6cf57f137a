/** The page's end of the recorder's Worker: one recording at a time. */
import type { RecorderCommand, RecorderReport } from './recorder-command.ts';
import type { RecordingNote } from './recording-note.ts';

function newWorker(): Worker {
  return new Worker(new URL('./recorder.worker.ts', import.meta.url), { type: 'module' });
}

function send(worker: Worker, command: RecorderCommand, transfer: Transferable[] = []): void {
  worker.postMessage(command, transfer);
}

export interface OpenRecording {
  /** Goes to the analysis Worker, which feeds it. */
  port: MessagePort;
  /** A port through which what is written so far can be read; see `lentRecording`. */
  lend(): MessagePort;
}

/**
 * Makes the file of a recording.
 *
 * @param onReport told how far it is, and once how it ended
 * @throws Error with one sentence where the browser has no file system of its own or no room
 */
export function openRecording(
  name: string,
  note: RecordingNote,
  onReport: (report: Extract<RecorderReport, { type: 'so-far' | 'ended' }>) => void,
): Promise<OpenRecording> {
  const worker = newWorker();
  const pipe = new MessageChannel();
  let isOpen = false;
  return new Promise((resolve, reject) => {
    const fail = (sentence: string) => {
      worker.terminate();
      if (isOpen) onReport({ type: 'ended', name, frames: 0, sentence });
      else reject(new Error(`The recording could not be begun: ${sentence}`));
    };
    worker.onerror = (event) => fail(event.message);
    worker.onmessage = ({ data }: MessageEvent<RecorderReport>) => {
      if (data.type === 'opened') {
        isOpen = true;
        resolve({ port: pipe.port2, lend: () => lentBy(worker) });
      } else if (data.type === 'failed') fail(data.sentence);
      else if (data.type !== 'repaired') onReport(data);
      if (data.type === 'ended') worker.terminate();
    };
    send(worker, { type: 'open', name, note, port: pipe.port1 }, [pipe.port1]);
  });
}

function lentBy(worker: Worker): MessagePort {
  const pipe = new MessageChannel();
  send(worker, { type: 'lend', port: pipe.port1 }, [pipe.port1]);
  return pipe.port2;
}

/**
 * Fills in the headers of recordings whose page died.
 *
 * @returns their names
 * @throws Error with one sentence where they cannot be looked at
 */
export function repairRecordings(): Promise<string[]> {
  const worker = newWorker();
  return new Promise<string[]>((resolve, reject) => {
    worker.onerror = (event) => reject(new Error(event.message));
    worker.onmessage = ({ data }: MessageEvent<RecorderReport>) => {
      if (data.type === 'repaired') resolve(data.names);
      else if (data.type === 'failed') reject(new Error(data.sentence));
    };
    send(worker, { type: 'repair' });
  }).finally(() => worker.terminate());
}
