/**
 * The audio thread's part of capture: every render quantum goes, untouched,
 * into the block at hand. Import its address only as
 * `./capture.worklet.ts?worker&url`; the other forms break once built.
 */
import type { RecycleMessage } from '../blocks.ts';
import { BlockGatherer } from './block-gatherer.ts';
import { CAPTURE_PROCESSOR, type CaptureCommand } from './capture-command.ts';

class CaptureProcessor extends AudioWorkletProcessor {
  #sink: MessagePort | null = null;
  #gatherer: BlockGatherer;
  #paused = false;
  #stopped = false;
  #expectedFrame = -1;
  #quantumFrames = 128;

  constructor() {
    super();
    this.#gatherer = this.#makeGatherer();
    this.port.onmessage = (event: MessageEvent<CaptureCommand>) => this.#obey(event.data);
  }

  process(inputs: Float32Array[][]): boolean {
    if (this.#stopped) return false;
    if (this.#sink === null || this.#paused) {
      this.#expectedFrame = -1;
      return true;
    }
    const channels = inputs[0];
    const frames = channels?.[0]?.length ?? this.#quantumFrames;
    if (this.#expectedFrame >= 0 && currentFrame > this.#expectedFrame)
      this.#gatherer.skip(currentFrame - this.#expectedFrame);
    this.#expectedFrame = currentFrame + frames;
    this.#quantumFrames = frames;
    if (channels === undefined || channels.length === 0) this.#gatherer.writeEmpty(frames);
    else this.#gatherer.write(channels, frames);
    return true;
  }

  #obey(command: CaptureCommand): void {
    if (command.type === 'sink') this.#connect(command.port);
    else if (command.type === 'pause') this.#pause();
    else if (command.type === 'resume') this.#paused = false;
    else this.#stop();
  }

  #connect(port: MessagePort): void {
    this.#sink = port;
    this.#gatherer = this.#makeGatherer();
    port.onmessage = (event: MessageEvent<RecycleMessage>) => this.#gatherer.recycle(event.data.channels);
  }

  #pause(): void {
    this.#paused = true;
    // No block may hold samples from before and after the pause.
    this.#gatherer.skip(0);
  }

  #makeGatherer(): BlockGatherer {
    return new BlockGatherer((message, transfer) => this.#sink?.postMessage(message, transfer));
  }

  #stop(): void {
    this.#stopped = true;
    this.#sink?.close();
    this.#sink = null;
  }
}

registerProcessor(CAPTURE_PROCESSOR, CaptureProcessor);
