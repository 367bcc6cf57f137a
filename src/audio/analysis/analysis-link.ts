/** The page's end of the analysis Worker. One Worker serves one source after the other. */
import type { Band, Doubt, LiveReading } from '../../dsp/reading.ts';
import type { AnalysisCommand, AnalysisReport, Take } from '../blocks.ts';

export interface AnalysisEvents {
  onReading(reading: LiveReading): void;
  onFailure(sentence: string): void;
}

interface Awaited {
  resolve(take: Take): void;
  reject(why: Error): void;
}

export interface Attachment {
  sampleRateHz: number;
  channelCount: number;
  warmUpSeconds: number;
  port: MessagePort;
}

export class AnalysisLink {
  readonly #events: AnalysisEvents;
  readonly #worker: Worker;
  #band: Band;
  #attached = false;
  #lastTake = 0;
  readonly #awaited = new Map<number, Awaited>();

  constructor(band: Band, events: AnalysisEvents) {
    this.#band = band;
    this.#events = events;
    this.#worker = new Worker(new URL('./analysis.worker.ts', import.meta.url), { type: 'module' });
    this.#worker.onmessage = (event: MessageEvent<AnalysisReport>) => this.#hear(event.data);
    this.#worker.onerror = (event) => {
      const sentence = `The analysis failed: ${event.message}`;
      for (const id of [...this.#awaited.keys()]) this.#settle(id, (one) => one.reject(new Error(sentence)));
      this.#events.onFailure(sentence);
    };
  }

  attach(attachment: Attachment): void {
    this.#attached = false;
    this.#send({ type: 'attach', band: this.#band, ...attachment }, [attachment.port]);
  }

  configure(change: { band?: Band; expectedHz?: number | null; standingDoubts?: Doubt[] }): void {
    if (change.band) this.#band = change.band;
    this.#send({ type: 'configure', ...change });
  }

  /** Forgets all samples so far; the next readings warm up anew. */
  reset(): void {
    this.#send({ type: 'reset' });
  }

  /**
   * The next so many frames, kept whole; one at a time.
   *
   * @param fromFrame on the source's clock; no block is kept that begins before it
   * @throws Error with one sentence where the source is closed or another take is asked for before it is whole
   */
  take(frames: number, fromFrame: number): Promise<Take> {
    this.#lastTake += 1;
    const id = this.#lastTake;
    return new Promise((resolve, reject) => {
      this.#awaited.set(id, { resolve, reject });
      this.#send({ type: 'take', id, frames, fromFrame });
    });
  }

  /** The take under way is given up; whoever waits for it is told. */
  dropTake(): void {
    this.#send({ type: 'drop-take' });
  }

  /** Every block from now on goes through `port` as well, as slabs. */
  record(port: MessagePort): void {
    this.#send({ type: 'record', port }, [port]);
  }

  endRecord(): void {
    this.#send({ type: 'end-record' });
  }

  detach(): void {
    this.#attached = false;
    this.#send({ type: 'detach' });
  }

  #hear(report: AnalysisReport): void {
    if (report.type === 'attached') this.#attached = true;
    else if (report.type === 'failed') this.#events.onFailure(report.sentence);
    else if (report.type === 'take') this.#settle(report.id, (one) => one.resolve(report.take));
    else if (report.type === 'take-lost')
      this.#settle(report.id, (one) => one.reject(new Error(report.sentence)));
    else if (this.#attached) this.#events.onReading(report.reading);
  }

  #settle(id: number, how: (one: Awaited) => void): void {
    const one = this.#awaited.get(id);
    this.#awaited.delete(id);
    if (one !== undefined) how(one);
  }

  #send(command: AnalysisCommand, transfer: Transferable[] = []): void {
    this.#worker.postMessage(command, transfer);
  }
}
