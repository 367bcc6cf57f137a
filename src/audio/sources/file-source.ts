/** A WAV file that the user chose, as a source like any other. */
import { TroubleError, troubleOf } from '../engine/troubles.ts';
import type { FileCommand, FileReport } from './file-command.ts';
import type { SampleSource, SourceEvents } from './sample-source.ts';

export class FileSource implements SampleSource {
  readonly #file: Blob;
  readonly #loop: boolean;
  #worker: Worker | null = null;
  #events: SourceEvents | null = null;
  sampleRateHz = 0;
  channelCount = 0;

  constructor(file: Blob, loop: boolean) {
    this.#file = file;
    this.#loop = loop;
  }

  listen(events: SourceEvents): void {
    this.#events = events;
  }

  /** @throws TroubleError `bad-file` with the sentence that says what is wrong with it. */
  start(port: MessagePort): Promise<void> {
    const worker = new Worker(new URL('./file.worker.ts', import.meta.url), { type: 'module' });
    this.#worker = worker;
    return new Promise((resolve, reject) => {
      const fail = (sentence: string) => {
        const trouble = troubleOf('bad-file', sentence);
        if (this.sampleRateHz > 0) this.#events?.onTrouble(trouble);
        else reject(new TroubleError(trouble));
      };
      worker.onmessage = (event: MessageEvent<FileReport>) => {
        const report = event.data;
        if (report.type === 'bad-file') return fail(report.sentence);
        if (report.type === 'ended') return this.#events?.onEnded();
        this.sampleRateHz = report.sampleRateHz;
        this.channelCount = report.channelCount;
        resolve();
      };
      worker.onerror = (event) => fail(`The part that reads the file failed: ${event.message}`);
      this.#send({ type: 'open', file: this.#file, loop: this.#loop, port }, [port]);
    });
  }

  pause(): void {
    this.#send({ type: 'pause' });
  }

  resume(): void {
    this.#send({ type: 'resume' });
  }

  stop(): void {
    this.#worker?.terminate();
    this.#worker = null;
    this.#events = null;
  }

  #send(command: FileCommand, transfer: Transferable[] = []): void {
    this.#worker?.postMessage(command, transfer);
  }
}
