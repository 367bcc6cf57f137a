/** Reads a WAV file at the pace of real time and posts it as blocks. */
import type { RecycleMessage } from '../blocks.ts';
import { BlockGatherer } from '../capture/block-gatherer.ts';
import { blobBytes } from '../wav/blob-bytes.ts';
import { openWav } from '../wav/open-wav.ts';
import type { FileCommand, FileReport } from './file-command.ts';
import { FilePacer } from './file-pacer.ts';

/** Shorter than a block lasts, so that blocks leave evenly. */
const TURN_MS = 10;

let pacer: FilePacer | null = null;
let stopped = false;

function report(message: FileReport): void {
  self.postMessage(message);
}

async function open(command: Extract<FileCommand, { type: 'open' }>): Promise<void> {
  const { port } = command;
  const info = await openWav(blobBytes(command.file));
  const gatherer = new BlockGatherer((message, transfer) => port.postMessage(message, transfer));
  port.onmessage = (event: MessageEvent<RecycleMessage>) => gatherer.recycle(event.data.channels);
  pacer = new FilePacer(info, gatherer, command.loop);
  pacer.run(performance.now());
  report({ type: 'opened', sampleRateHz: info.sampleRateHz, channelCount: info.channelCount });
  while (!stopped && (await pacer.turn(performance.now())))
    await new Promise((resolve) => setTimeout(resolve, TURN_MS));
  if (!stopped) report({ type: 'ended' });
}

function sentenceOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

self.onmessage = (event: MessageEvent<FileCommand>) => {
  const command = event.data;
  if (command.type === 'open')
    open(command).catch((error) => report({ type: 'bad-file', sentence: sentenceOf(error) }));
  else if (command.type === 'pause') pacer?.pause();
  else if (command.type === 'resume') pacer?.run(performance.now());
  else stopped = true;
};
