import type { ByteSource } from './byte-source.ts';
import { WavError } from './wav-error.ts';

/** One chunk of the file, as its own header states it. */
export interface Chunk {
  id: string;
  /** Offset of the first byte after the chunk's header. */
  bodyOffset: number;
  /** As stated, even where the file ends before. */
  statedBytes: number;
}

export interface RiffHeader {
  /** `RIFF`, or `RF64` / `BW64` where 64-bit sizes stand in a `ds64` chunk. */
  id: string;
  statedBytes: number;
}

export const SIZE_UNKNOWN = 0xffff_ffff;
const HEADER_BYTES = 12;
const CHUNK_HEADER_BYTES = 8;

function ascii(bytes: Uint8Array, from: number): string {
  return String.fromCharCode(...bytes.subarray(from, from + 4));
}

function uint32(bytes: Uint8Array, from: number): number {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(from, true);
}

/** @throws WavError when the file is not a RIFF, RF64 or BW64 file of the kind WAVE */
export async function readRiffHeader(bytes: ByteSource): Promise<RiffHeader> {
  if (bytes.size === 0) throw new WavError('The file is empty; a WAV recording is needed.');
  const wanted = 'a WAV file begins with RIFF (or RF64, BW64) and WAVE';
  if (bytes.size < HEADER_BYTES)
    throw new WavError(`Not a WAV file: ${bytes.size} bytes only, and ${wanted}.`);
  const header = await bytes.read(0, HEADER_BYTES);
  const id = ascii(header, 0);
  if (id === 'RIFX') {
    throw new WavError(
      'A big-endian WAV file (RIFX) cannot be read; save it as an ordinary WAV file (RIFF).',
    );
  }
  if (!['RIFF', 'RF64', 'BW64'].includes(id) || ascii(header, 8) !== 'WAVE') {
    throw new WavError(`Not a WAV file: ${wanted}.`);
  }
  return { id, statedBytes: uint32(header, 4) };
}

/**
 * Chunks in the order of the file. A chunk of odd size is followed by one pad
 * byte. Each may be asked for after the body of the one before has been read.
 * Ends at the end of the file, or at a chunk whose size is not known.
 */
export async function* chunksOf(bytes: ByteSource): AsyncGenerator<Chunk, void> {
  let offset = HEADER_BYTES;
  while (offset + CHUNK_HEADER_BYTES <= bytes.size) {
    const header = await bytes.read(offset, CHUNK_HEADER_BYTES);
    const chunk = {
      id: ascii(header, 0),
      bodyOffset: offset + CHUNK_HEADER_BYTES,
      statedBytes: uint32(header, 4),
    };
    yield chunk;
    if (chunk.statedBytes === SIZE_UNKNOWN) return;
    offset = chunk.bodyOffset + chunk.statedBytes + (chunk.statedBytes % 2);
  }
}
