/** An opened input, read through the audio graph by a worklet. */

import captureWorkletUrl from '../capture/capture.worklet.ts?worker&url';
import { CAPTURE_PROCESSOR, type CaptureCommand } from '../capture/capture-command.ts';
import { TroubleError, troubleOf } from '../engine/troubles.ts';
import type { SampleSource, SourceEvents } from './sample-source.ts';

/** Contexts that already hold the processor: a module may be added twice, a name may not. */
const prepared = new WeakSet<BaseAudioContext>();

export class DeviceWorkletSource implements SampleSource {
  readonly #track: MediaStreamTrack;
  readonly #context: AudioContext;
  #input: MediaStreamAudioSourceNode | null = null;
  #node: AudioWorkletNode | null = null;
  #events: SourceEvents | null = null;
  readonly channelCount: number;

  constructor(track: MediaStreamTrack, context: AudioContext) {
    this.#track = track;
    this.#context = context;
    // Some browsers do not say; the blocks themselves then show how many there are.
    this.channelCount = track.getSettings().channelCount ?? 1;
  }

  get sampleRateHz(): number {
    return this.#context.sampleRate;
  }

  listen(events: SourceEvents): void {
    this.#events = events;
  }

  /** @throws TroubleError where the worklet cannot be loaded; the browser's own error where rates cannot be bridged. */
  async start(port: MessagePort): Promise<void> {
    const context = this.#context;
    if (!context.audioWorklet) throw new TroubleError(troubleOf('no-audio-in-this-browser'));
    if (!prepared.has(context)) {
      await context.audioWorklet.addModule(captureWorkletUrl);
      prepared.add(context);
    }
    this.#input = context.createMediaStreamSource(new MediaStream([this.#track]));
    this.#node = new AudioWorkletNode(context, CAPTURE_PROCESSOR, {
      numberOfOutputs: 0,
      channelCountMode: 'max',
      channelInterpretation: 'discrete',
    });
    this.#node.onprocessorerror = () => this.#events?.onTrouble(troubleOf('worklet-failed'));
    this.#send({ type: 'sink', port }, [port]);
    this.#input.connect(this.#node);
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
    this.#input?.disconnect();
    this.#input = null;
    this.#node = null;
    this.#track.stop();
  }

  #send(command: CaptureCommand, transfer: Transferable[] = []): void {
    this.#node?.port.postMessage(command, transfer);
  }
}
