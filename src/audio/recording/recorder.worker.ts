/**
 * Writes recordings into the page's own file system through a synchronous handle: what was written is in the file
 * at once, while a writable stream keeps a copy that is lost with the page. It stands apart from the analysis, so
 * that a disk that stands still holds up neither readings nor samples.
 */
import {
  RECORDINGS_FOLDER,
  type ReadAnswer,
  type ReadRequest,
  type RecorderCommand,
  type RecorderReport,
} from './recorder-command.ts';
import type { RecordingNote } from './recording-note.ts';
import { NoRoom, RecordingWriter, repairRecording } from './recording-writer.ts';
import type { SlabBack, SlabMessage } from './slabs.ts';

/** Frames between two reports, as a share of a second. */
const REPORTS_PER_SECOND = 4;

function report(message: RecorderReport): void {
  self.postMessage(message);
}

function sentenceOf(fault: unknown): string {
  return fault instanceof Error ? fault.message : String(fault);
}

async function folder(): Promise<FileSystemDirectoryHandle> {
  const root = await navigator.storage.getDirectory();
  return root.getDirectoryHandle(RECORDINGS_FOLDER, { create: true });
}

/** The one recording under way. */
class Recording {
  readonly #name: string;
  readonly #file: FileSystemSyncAccessHandle;
  readonly #note: RecordingNote;
  readonly #port: MessagePort;
  #writer: RecordingWriter | null = null;
  #shape = { sampleRateHz: 0, channelCount: 0 };
  #reportedAtFrame = 0;
  #isOver = false;

  constructor(name: string, file: FileSystemSyncAccessHandle, note: RecordingNote, port: MessagePort) {
    this.#name = name;
    this.#file = file;
    this.#note = note;
    this.#port = port;
    port.onmessage = (event: MessageEvent<SlabMessage>) => this.#take(event.data);
  }

  /** Whoever holds the other end reads what is written so far; a file that is being written opens to nobody else. */
  lend(port: MessagePort): void {
    port.onmessage = ({ data }: MessageEvent<ReadRequest>) => {
      try {
        if (this.#writer === null || this.#isOver) throw new Error('The recording has ended.');
        const channels = this.#writer.read(data.startFrame, data.frames);
        const answer: ReadAnswer = { channels };
        port.postMessage(
          answer,
          channels.map((samples) => samples.buffer),
        );
      } catch (fault) {
        port.postMessage({ fault: sentenceOf(fault) } satisfies ReadAnswer);
      }
    };
  }

  #take(message: SlabMessage): void {
    if (this.#isOver) return;
    try {
      if (message.type === 'begin') this.#begin(message);
      else if (message.type === 'slab') this.#write(message);
      else this.#end(message.sentence);
    } catch (fault) {
      this.#end(fault instanceof NoRoom ? fault.message : `The recording stopped: ${sentenceOf(fault)}`);
    }
  }

  #begin({ sampleRateHz, channelCount }: Extract<SlabMessage, { type: 'begin' }>): void {
    this.#shape = { sampleRateHz, channelCount };
    this.#writer = new RecordingWriter(this.#file, this.#shape, this.#note);
    this.#report();
  }

  #write({ samples, frames, gapFrames }: Extract<SlabMessage, { type: 'slab' }>): void {
    this.#writer?.write(samples, frames, gapFrames);
    this.#port.postMessage({ type: 'slab-back', samples } satisfies SlabBack, [samples.buffer]);
    const sinceReport = (this.#writer?.frames ?? 0) - this.#reportedAtFrame;
    if (sinceReport * REPORTS_PER_SECOND >= this.#shape.sampleRateHz) this.#report();
  }

  #report(): void {
    if (this.#writer === null) return;
    this.#reportedAtFrame = this.#writer.frames;
    report({ type: 'so-far', soFar: this.#writer.look(), ...this.#shape });
  }

  #end(sentence: string | null): void {
    this.#isOver = true;
    const frames = this.#writer?.frames ?? 0;
    try {
      if (this.#writer === null) this.#file.close();
      else {
        this.#report();
        this.#writer.finish(sentence ?? 'stopped');
      }
      report({ type: 'ended', name: this.#name, frames, sentence });
    } catch (fault) {
      this.#file.close();
      report({ type: 'ended', name: this.#name, frames, sentence: sentence ?? sentenceOf(fault) });
    }
    this.#port.close();
  }
}

let current: Recording | null = null;

async function open({ name, note, port }: Extract<RecorderCommand, { type: 'open' }>): Promise<void> {
  const handle = await (await folder()).getFileHandle(name, { create: true });
  const file = await handle.createSyncAccessHandle();
  current = new Recording(name, file, note, port);
  report({ type: 'opened' });
}

/** A file that another page is writing is locked, and is none of ours. */
async function lockedOut(handle: FileSystemFileHandle): Promise<FileSystemSyncAccessHandle | null> {
  try {
    return await handle.createSyncAccessHandle();
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'NoModificationAllowedError') return null;
    throw fault;
  }
}

async function repair(): Promise<void> {
  const names: string[] = [];
  for await (const handle of (await folder()).values()) {
    if (handle.kind !== 'file') continue;
    const file = await lockedOut(handle);
    if (file === null) continue;
    try {
      if (repairRecording(file)) names.push(handle.name);
    } finally {
      file.close();
    }
  }
  report({ type: 'repaired', names });
}

self.onmessage = ({ data }: MessageEvent<RecorderCommand>) => {
  if (data.type === 'lend') {
    current?.lend(data.port);
    return;
  }
  const work = data.type === 'repair' ? repair() : open(data);
  work.catch((fault: unknown) => report({ type: 'failed', sentence: sentenceOf(fault) }));
};
