/** The Worker around `TrackReader`. */
import type { RecycleMessage } from '../blocks.ts';
import { BlockGatherer } from './block-gatherer.ts';
import type { AudioFrames, TrackCommand, TrackReport } from './track-command.ts';
import { TrackReader } from './track-reader.ts';

let reader: TrackReader | null = null;
let frames: ReadableStreamDefaultReader<AudioFrames> | null = null;

function report(message: TrackReport): void {
  self.postMessage(message);
}

async function open(readable: ReadableStream<AudioFrames>, port: MessagePort): Promise<void> {
  const gatherer = new BlockGatherer((message, transfer) => port.postMessage(message, transfer));
  port.onmessage = (event: MessageEvent<RecycleMessage>) => gatherer.recycle(event.data.channels);
  reader = new TrackReader(gatherer);
  frames = readable.getReader();
  for (;;) {
    const { value, done } = await frames.read();
    if (done) return;
    const format = reader.take(value);
    if (format !== null) report({ type: 'format', ...format });
  }
}

self.onmessage = (event: MessageEvent<TrackCommand>) => {
  const command = event.data;
  if (command.type === 'open')
    open(command.readable, command.port).catch((error) =>
      report({ type: 'failed', sentence: error instanceof Error ? error.message : String(error) }),
    );
  else if (command.type === 'pause') reader?.pause();
  else if (command.type === 'resume') reader?.resume();
  else frames?.cancel();
};
