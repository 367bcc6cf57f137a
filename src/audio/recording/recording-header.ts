/**
 * The header of a recording: a WAV of 32-bit float whose sizes stay unknown (all ones) until it ends, with room for
 * the 64-bit sizes of a file past 4 GiB (RF64, EBU Tech 3306) and for a note about itself. One page of a disk long,
 * so that it is written as a whole or not at all.
 */
import { SIZE_UNKNOWN } from '../wav/chunks.ts';
import { noteText, type RecordingNote, readNote } from './recording-note.ts';

export const HEADER_BYTES = 4096;
const SAMPLE_BYTES = 4;
const FORMAT_FLOAT = 3;
const LONG_SIZES_AT = 12;
const FORMAT_AT = 48;
const FACT_AT = 74;
const NOTE_AT = 86;
const DATA_AT = HEADER_BYTES - 8;
const NOTE_BYTES = DATA_AT - NOTE_AT - 8;

export interface RecordingShape {
  sampleRateHz: number;
  channelCount: number;
}

export function bytesPerFrame({ channelCount }: RecordingShape): number {
  return SAMPLE_BYTES * channelCount;
}

/**
 * @param frames `null` while they are still coming
 * @throws RangeError where the note does not fit
 */
export function recordingHeader(
  shape: RecordingShape,
  note: RecordingNote,
  frames: number | null,
): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(HEADER_BYTES);
  const view = new DataView(bytes.buffer);
  const dataBytes = frames === null ? null : frames * bytesPerFrame(shape);
  const isLong = dataBytes !== null && HEADER_BYTES - 8 + dataBytes >= SIZE_UNKNOWN;
  const short = (size: number) => (dataBytes === null || isLong ? SIZE_UNKNOWN : size);
  putWord(bytes, 0, isLong ? 'RF64' : 'RIFF');
  view.setUint32(4, short(HEADER_BYTES - 8 + (dataBytes ?? 0)), true);
  putWord(bytes, 8, 'WAVE');
  putWord(bytes, LONG_SIZES_AT, isLong ? 'ds64' : 'JUNK');
  view.setUint32(LONG_SIZES_AT + 4, 28, true);
  if (isLong) {
    view.setBigUint64(LONG_SIZES_AT + 8, BigInt(HEADER_BYTES - 8 + dataBytes), true);
    view.setBigUint64(LONG_SIZES_AT + 16, BigInt(dataBytes), true);
    view.setBigUint64(LONG_SIZES_AT + 24, BigInt(frames ?? 0), true);
  }
  putFormat(bytes, view, shape);
  putWord(bytes, FACT_AT, 'fact');
  view.setUint32(FACT_AT + 4, 4, true);
  view.setUint32(FACT_AT + 8, short(frames ?? 0), true);
  putNote(bytes, view, note);
  putWord(bytes, DATA_AT, 'data');
  view.setUint32(DATA_AT + 4, short(dataBytes ?? 0), true);
  return bytes;
}

function putWord(bytes: Uint8Array, place: number, text: string): void {
  for (let index = 0; index < 4; index += 1) bytes[place + index] = text.charCodeAt(index);
}

/** Formats other than PCM carry a size of extension (Microsoft multimedia standards update, 1994). */
function putFormat(bytes: Uint8Array, view: DataView, shape: RecordingShape): void {
  putWord(bytes, FORMAT_AT, 'fmt ');
  view.setUint32(FORMAT_AT + 4, 18, true);
  view.setUint16(FORMAT_AT + 8, FORMAT_FLOAT, true);
  view.setUint16(FORMAT_AT + 10, shape.channelCount, true);
  view.setUint32(FORMAT_AT + 12, shape.sampleRateHz, true);
  view.setUint32(FORMAT_AT + 16, shape.sampleRateHz * bytesPerFrame(shape), true);
  view.setUint16(FORMAT_AT + 20, bytesPerFrame(shape), true);
  view.setUint16(FORMAT_AT + 22, 8 * SAMPLE_BYTES, true);
}

function putNote(bytes: Uint8Array, view: DataView, note: RecordingNote): void {
  const text = new TextEncoder().encode(noteText(note));
  if (text.length > NOTE_BYTES) {
    throw new RangeError(
      `The note of a recording takes ${text.length} bytes; it must fit in ${NOTE_BYTES}: name fewer points.`,
    );
  }
  putWord(bytes, NOTE_AT, 'knpt');
  view.setUint32(NOTE_AT + 4, NOTE_BYTES, true);
  bytes.fill(0x20, NOTE_AT + 8, DATA_AT);
  bytes.set(text, NOTE_AT + 8);
}

export interface FoundHeader {
  shape: RecordingShape;
  note: RecordingNote;
  /** Whether its sizes were filled in. */
  isFinished: boolean;
}

/** @returns `null` for a file that no recorder of ours began */
export function readRecordingHeader(bytes: Uint8Array): FoundHeader | null {
  if (bytes.length < HEADER_BYTES) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (place: number) => String.fromCharCode(...bytes.subarray(place, place + 4));
  if (word(NOTE_AT) !== 'knpt' || word(DATA_AT) !== 'data' || word(FORMAT_AT) !== 'fmt ') return null;
  const note = readNote(new TextDecoder().decode(bytes.subarray(NOTE_AT + 8, DATA_AT)));
  if (note === null) return null;
  const shape = {
    channelCount: view.getUint16(FORMAT_AT + 10, true),
    sampleRateHz: view.getUint32(FORMAT_AT + 12, true),
  };
  const isFinished = word(0) === 'RF64' || view.getUint32(DATA_AT + 4, true) !== SIZE_UNKNOWN;
  return { shape, note, isFinished };
}

/** Whole frames in a file of this size. */
export function framesIn(fileBytes: number, shape: RecordingShape): number {
  return Math.max(0, Math.floor((fileBytes - HEADER_BYTES) / bytesPerFrame(shape)));
}
