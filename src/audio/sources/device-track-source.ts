/** An opened input, read frame by frame past the audio graph, where the browser offers it. */
import type { AudioFrames, TrackCommand, TrackReport } from '../capture/track-command.ts';
import { TroubleError, troubleOf } from '../engine/troubles.ts';
import type { SampleSource, SourceEvents } from './sample-source.ts';

/** The page's own view of a browser interface that TypeScript's library does not describe. */
type TrackProcessorClass = new (init: {
  track: MediaStreamTrack;
  maxBufferSize: number;
}) => { readable: ReadableStream<AudioFrames> };

/**
 * Lots of 10 to 21 ms that may wait for a Worker that gets no time to run. The
 * browser's own 10 were seen to overflow on a machine with three times the work
 * it could do; this is at least a second, and costs nothing while unused.
 */
const WAITING_LOTS = 100;

/** An input that has delivered nothing for so long will not. */
const FIRST_FRAMES_MS = 3000;

function trackProcessorClass(): TrackProcessorClass | undefined {
  return (globalThis as { MediaStreamTrackProcessor?: TrackProcessorClass }).MediaStreamTrackProcessor;
}

/** Whether a page (not only a Worker) may read tracks directly in this browser. */
export function canReadTracks(): boolean {
  return trackProcessorClass() !== undefined;
}

export class DeviceTrackSource implements SampleSource {
  readonly #track: MediaStreamTrack;
  #worker: Worker | null = null;
  #events: SourceEvents | null = null;
  sampleRateHz = 0;
  channelCount = 0;

  constructor(track: MediaStreamTrack) {
    this.#track = track;
  }

  listen(events: SourceEvents): void {
    this.#events = events;
  }

  /** Resolves with the first frames. @throws TroubleError `interrupted` if none come. */
  start(port: MessagePort): Promise<void> {
    const Processor = trackProcessorClass();
    if (Processor === undefined) throw new TroubleError(troubleOf('no-audio-in-this-browser'));
    const { readable } = new Processor({ track: this.#track, maxBufferSize: WAITING_LOTS });
    const worker = new Worker(new URL('../capture/track-reader.worker.ts', import.meta.url), {
      type: 'module',
    });
    this.#worker = worker;
    return new Promise((resolve, reject) => {
      const fail = (sentence: string) => {
        clearTimeout(deadline);
        const trouble = troubleOf('interrupted', sentence);
        if (this.sampleRateHz > 0) this.#events?.onTrouble(trouble);
        else reject(new TroubleError(trouble));
      };
      const deadline = setTimeout(() => fail('The input is open but delivers no samples.'), FIRST_FRAMES_MS);
      worker.onmessage = (event: MessageEvent<TrackReport>) => {
        const report = event.data;
        if (report.type === 'failed') return fail(report.sentence);
        clearTimeout(deadline);
        this.sampleRateHz = report.sampleRateHz;
        this.channelCount = report.channelCount;
        resolve();
      };
      worker.onerror = (event) => fail(`The part that reads the input failed: ${event.message}`);
      this.#send({ type: 'open', readable, port }, [readable, port]);
    });
  }

  pause(): void {
    this.#send({ type: 'pause' });
  }

  resume(): void {
    this.#send({ type: 'resume' });
  }

  stop(): void {
    this.#events = null;
    this.#send({ type: 'stop' });
    this.#worker?.terminate();
    this.#worker = null;
    this.#track.stop();
  }

  #send(command: TrackCommand, transfer: Transferable[] = []): void {
    this.#worker?.postMessage(command, transfer);
  }
}
