/** The page's end of the analysis Worker. One Worker serves one source after the other. */
import type { Band, Doubt, LiveReading } from '../../dsp/reading.ts';
import type { AnalysisCommand, AnalysisReport } from '../blocks.ts';

export interface AnalysisEvents {
  onReading(reading: LiveReading): void;
  onFailure(sentence: string): void;
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

  constructor(band: Band, events: AnalysisEvents) {
    this.#band = band;
    this.#events = events;
    this.#worker = new Worker(new URL('./analysis.worker.ts', import.meta.url), { type: 'module' });
    this.#worker.onmessage = (event: MessageEvent<AnalysisReport>) => this.#hear(event.data);
    this.#worker.onerror = (event) => this.#events.onFailure(`The analysis failed: ${event.message}`);
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

  detach(): void {
    this.#attached = false;
    this.#send({ type: 'detach' });
  }

  #hear(report: AnalysisReport): void {
    if (report.type === 'attached') this.#attached = true;
    else if (report.type === 'failed') this.#events.onFailure(report.sentence);
    else if (this.#attached) this.#events.onReading(report.reading);
  }

  #send(command: AnalysisCommand, transfer: Transferable[] = []): void {
    this.#worker.postMessage(command, transfer);
  }
}
