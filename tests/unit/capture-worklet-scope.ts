/**
 * A stand-in for the scope an AudioWorklet runs in, so that the very file the
 * browser loads is run in Node.
 */
import { MessageChannel, type MessagePort } from 'node:worker_threads';

interface ProcessorUnderTest {
  process(inputs: Float32Array[][]): boolean;
}

export interface WorkletScope {
  processor: ProcessorUnderTest;
  /** The page's end of the processor's own port. */
  port: MessagePort;
  /** The render thread's clock. */
  setCurrentFrame(frame: number): void;
}

/** The module is loaded once, so the class it extends serves every processor made here. */
let registered: (new () => ProcessorUnderTest) | null = null;
let processorPort: MessagePort | null = null;

/** Loads the worklet's module and makes one processor. */
export async function openWorkletScope(): Promise<WorkletScope> {
  const scope = globalThis as Record<string, unknown>;
  scope.currentFrame = 0;
  scope.AudioWorkletProcessor = class {
    get port() {
      return processorPort;
    }
  };
  scope.registerProcessor = (_name: string, processor: new () => ProcessorUnderTest) => {
    registered = processor;
  };
  await import('../../src/audio/capture/capture.worklet.ts');
  if (registered === null) throw new Error('The worklet registered no processor.');
  const channel = new MessageChannel();
  processorPort = channel.port1;
  const processor = new registered();
  return {
    processor,
    port: channel.port2,
    setCurrentFrame: (frame) => {
      scope.currentFrame = frame;
    },
  };
}
