/**
 * Writes a recording down as it comes: the header first, with its sizes unknown, then samples as they are, then the
 * header once more. Whatever stops it, the file holds whole frames and stays readable.
 */
import { type LevelFigures, LevelGuard } from './level-guard.ts';
import {
  bytesPerFrame,
  framesIn,
  HEADER_BYTES,
  type RecordingShape,
  readRecordingHeader,
  recordingHeader,
} from './recording-header.ts';
import type { RecordingNote } from './recording-note.ts';

/** What of a file system's synchronous handle is needed. */
export interface SyncFile {
  /** @returns bytes written, which may be fewer where the disk is full */
  write(bytes: Uint8Array<ArrayBuffer>, options: { at: number }): number;
  read(into: Uint8Array<ArrayBuffer>, options: { at: number }): number;
  truncate(size: number): void;
  getSize(): number;
  flush(): void;
  close(): void;
}

/** The disk, or the room that the browser grants, is used up. */
export class NoRoom extends Error {
  constructor(cause?: unknown) {
    super('There is no room left on this device, so the recording ended here; what was recorded is kept.', {
      cause,
    });
    this.name = 'NoRoom';
  }
}

export interface RecordedSoFar extends LevelFigures {
  frames: number;
  gapFrames: number;
}

export class RecordingWriter {
  readonly #file: SyncFile;
  readonly #shape: RecordingShape;
  readonly #guard: LevelGuard;
  #note: RecordingNote;
  #frames = 0;
  #notedAtFrame = 0;

  /** @throws NoRoom where not even the header fits */
  constructor(file: SyncFile, shape: RecordingShape, note: RecordingNote) {
    this.#file = file;
    this.#shape = shape;
    this.#guard = new LevelGuard(shape.channelCount);
    this.#note = { ...note, ending: 'open' };
    file.truncate(0);
    putWhole(file, recordingHeader(shape, this.#note, null), 0);
    file.flush();
  }

  get frames(): number {
    return this.#frames;
  }

  /**
   * @param interleaved frame by frame, of which the first `frames` count
   * @throws NoRoom where they do not fit; as many whole frames as did are kept
   */
  write(interleaved: Float32Array<ArrayBuffer>, frames: number, gapFrames: number): void {
    const frameBytes = bytesPerFrame(this.#shape);
    const bytes = new Uint8Array(interleaved.buffer, 0, frames * frameBytes);
    this.#guard.push(interleaved, frames);
    this.#note.gapFrames += gapFrames;
    const wanted = this.#frames + frames;
    try {
      putWhole(this.#file, bytes, HEADER_BYTES + this.#frames * frameBytes);
    } finally {
      this.#frames = Math.min(wanted, framesIn(this.#file.getSize(), this.#shape));
    }
    // Chromium 156 at its quota was seen to say that all was written, and to write nothing; the size tells.
    if (this.#frames < wanted) throw new NoRoom();
    this.#noteNowAndThen();
  }

  /**
   * A stretch of what is written, one fresh array for each channel.
   *
   * @throws RangeError for a stretch that is not all there
   */
  read(startFrame: number, frames: number): Float32Array<ArrayBuffer>[] {
    if (startFrame < 0 || frames < 0 || startFrame + frames > this.#frames) {
      throw new RangeError(
        `Frames ${startFrame} to ${startFrame + frames} were asked for; ${this.#frames} are recorded.`,
      );
    }
    const { channelCount } = this.#shape;
    const frameBytes = bytesPerFrame(this.#shape);
    const bytes = new Uint8Array(frames * frameBytes);
    this.#file.read(bytes, { at: HEADER_BYTES + startFrame * frameBytes });
    const interleaved = new Float32Array(bytes.buffer);
    return Array.from({ length: channelCount }, (_, channel) =>
      Float32Array.from({ length: frames }, (_, frame) => interleaved[frame * channelCount + channel]!),
    );
  }

  look(): RecordedSoFar {
    return { frames: this.#frames, gapFrames: this.#note.gapFrames, ...this.#guard.look() };
  }

  /** Fills in the sizes and closes the file. @param ending `stopped`, or why, one sentence */
  finish(ending: string): void {
    this.#file.truncate(HEADER_BYTES + this.#frames * bytesPerFrame(this.#shape));
    this.#putNote(ending, this.#frames);
    this.#file.flush();
    this.#file.close();
  }

  /** A page that dies leaves no more than a second's overloads untold. */
  #noteNowAndThen(): void {
    if (this.#frames - this.#notedAtFrame < this.#shape.sampleRateHz) return;
    this.#notedAtFrame = this.#frames;
    this.#putNote('open', null);
  }

  #putNote(ending: string, frames: number | null): void {
    this.#note = { ...this.#note, overloads: this.#guard.overloads, ending };
    putWhole(this.#file, recordingHeader(this.#shape, this.#note, frames), 0);
  }
}

function putWhole(file: SyncFile, bytes: Uint8Array<ArrayBuffer>, at: number): void {
  let written: number;
  try {
    written = file.write(bytes, { at });
  } catch (fault) {
    if (fault instanceof Error && fault.name === 'QuotaExceededError') throw new NoRoom(fault);
    throw fault;
  }
  if (written < bytes.length) throw new NoRoom();
}

/**
 * Fills in the sizes of a recording whose page died. A finished one, and a file of another kind, is left alone.
 *
 * @returns whether anything was repaired
 */
export function repairRecording(file: SyncFile): boolean {
  const bytes = new Uint8Array(HEADER_BYTES);
  if (file.read(bytes, { at: 0 }) < HEADER_BYTES) return false;
  const found = readRecordingHeader(bytes);
  if (found === null || found.isFinished) return false;
  const { shape, note } = found;
  const frames = framesIn(file.getSize(), shape);
  file.truncate(HEADER_BYTES + frames * bytesPerFrame(shape));
  putWhole(file, recordingHeader(shape, { ...note, ending: 'repaired' }, frames), 0);
  file.flush();
  return true;
}
