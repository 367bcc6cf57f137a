/** The recordings kept in this browser: listed, handed out as files, taken away only when asked to. */
import { RECORDINGS_FOLDER } from './recorder-command.ts';
import { framesIn, HEADER_BYTES, type RecordingShape, readRecordingHeader } from './recording-header.ts';
import type { RecordingNote } from './recording-note.ts';

export interface KeptRecording {
  name: string;
  shape: RecordingShape;
  note: RecordingNote;
  frames: number;
  /** False while some page is still writing it. */
  isFinished: boolean;
}

async function folder(): Promise<FileSystemDirectoryHandle> {
  const storage = globalThis.navigator?.storage;
  if (storage?.getDirectory === undefined) {
    throw new Error(
      'This browser keeps no files for pages, so nothing can be recorded; choose a WAV file instead.',
    );
  }
  return (await storage.getDirectory()).getDirectoryHandle(RECORDINGS_FOLDER, { create: true });
}

/** Newest first. Files that hold no recording are left out. @throws Error with one sentence */
export async function keptRecordings(): Promise<KeptRecording[]> {
  const kept: KeptRecording[] = [];
  for await (const handle of (await folder()).values()) {
    if (handle.kind !== 'file') continue;
    const file = await (handle as FileSystemFileHandle).getFile();
    const found = readRecordingHeader(new Uint8Array(await file.slice(0, HEADER_BYTES).arrayBuffer()));
    if (found !== null) kept.push({ name: handle.name, ...found, frames: framesIn(file.size, found.shape) });
  }
  return kept.sort((a, b) => b.note.startedAt.localeCompare(a.note.startedAt));
}

/** The file as it lies on disk. */
export async function recordingFile(name: string): Promise<File> {
  return (await (await folder()).getFileHandle(name)).getFile();
}

export async function deleteRecording(name: string): Promise<void> {
  await (await folder()).removeEntry(name);
}

/** Seconds that still fit at this shape; `null` where the browser does not say. */
export async function roomSeconds({ sampleRateHz, channelCount }: RecordingShape): Promise<number | null> {
  const { quota, usage } = (await globalThis.navigator?.storage?.estimate?.()) ?? {};
  if (quota === undefined || usage === undefined) return null;
  return (quota - usage) / (4 * channelCount * sampleRateHz);
}
