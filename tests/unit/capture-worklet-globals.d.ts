/** The little of a worklet's scope that the processor under test names; `capture-worklet-scope.ts` provides it. */
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare const currentFrame: number;
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;
