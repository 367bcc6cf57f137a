import type { ByteSource } from './byte-source.ts';
import { type Chunk, chunksOf, type RiffHeader, readRiffHeader, SIZE_UNKNOWN } from './chunks.ts';
import { FORMAT_CHUNK_BYTES, readFormatChunk, type WavFormat } from './format-chunk.ts';
import { WavError } from './wav-error.ts';

/** An opened WAV file: where its samples lie and how they are stored. */
export interface WavInfo extends WavFormat {
  bytes: ByteSource;
  frames: number;
  /** Offset of the first sample in the file. */
  dataOffset: number;
}

/**
 * Writers that stream into a pipe cannot go back to fill in the sizes. Some
 * leave all ones, some zero, some the highest round size below 2 GiB.
 */
const STREAMED_SIZES_FROM = 0x7fff_0000;

interface Found {
  format: WavFormat | null;
  data: Chunk | null;
  /** 64-bit size of the data chunk out of `ds64` (EBU Tech 3306, ITU-R BS.2088). */
  longDataBytes: number | null;
}

async function readBody(bytes: ByteSource, chunk: Chunk, atMost: number): Promise<Uint8Array> {
  return bytes.read(chunk.bodyOffset, Math.min(chunk.statedBytes, atMost, bytes.size - chunk.bodyOffset));
}

function longDataBytes(body: Uint8Array): number {
  if (body.length < 16) throw new WavError('The 64-bit size chunk (ds64) is cut short; copy the file again.');
  return Number(new DataView(body.buffer, body.byteOffset, body.byteLength).getBigUint64(8, true));
}

async function findChunks(bytes: ByteSource, riff: RiffHeader): Promise<Found> {
  const found: Found = { format: null, data: null, longDataBytes: null };
  for await (const chunk of chunksOf(bytes)) {
    if (chunk.id === 'ds64' && riff.id !== 'RIFF') {
      found.longDataBytes = longDataBytes(await readBody(bytes, chunk, 28));
    } else if (chunk.id === 'fmt ' && found.format === null) {
      found.format = readFormatChunk(await readBody(bytes, chunk, FORMAT_CHUNK_BYTES));
    } else if (chunk.id === 'data' && found.data === null) found.data = chunk;
    if (found.format !== null && found.data !== null) break;
  }
  return found;
}

/** Bytes of samples the file promises, or `null` where a streaming writer left that open. */
function promisedBytes(data: Chunk, riff: RiffHeader, long: number | null, fileBytes: number): number | null {
  if (data.statedBytes === SIZE_UNKNOWN && long !== null) return long;
  const held = fileBytes - data.bodyOffset;
  if (data.statedBytes >= STREAMED_SIZES_FROM && data.statedBytes > held) return null;
  const wholeFileIsStated = riff.statedBytes !== SIZE_UNKNOWN && riff.statedBytes + 8 >= fileBytes - 1;
  if (data.statedBytes === 0 && held > 0 && !wholeFileIsStated) return null;
  return data.statedBytes;
}

/**
 * Finds format and samples; reads a few hundred bytes, whatever the length.
 *
 * @throws WavError when the file is no WAV file, is cut short, holds no sound, or is stored in a way that is not read
 */
export async function openWav(bytes: ByteSource): Promise<WavInfo> {
  const riff = await readRiffHeader(bytes);
  const { format, data, longDataBytes: long } = await findChunks(bytes, riff);
  if (data === null)
    throw new WavError('The file holds no samples (no data chunk); copy or record it again.');
  if (format === null) {
    throw new WavError(
      'The file does not say how its samples are stored (no fmt chunk); copy or record it again.',
    );
  }
  const heldBytes = bytes.size - data.bodyOffset;
  const promised = promisedBytes(data, riff, long, bytes.size);
  if (promised !== null && promised > heldBytes) {
    const seconds = (count: number) => (count / format.bytesPerFrame / format.sampleRateHz).toFixed(3);
    throw new WavError(
      `The file is cut short: its header promises ${seconds(promised)} s, it holds ${seconds(heldBytes)} s; copy it again from the recorder.`,
    );
  }
  const frames = Math.floor((promised ?? heldBytes) / format.bytesPerFrame);
  if (frames === 0) throw new WavError('The file holds 0 frames; a recording with sound in it is needed.');
  return { ...format, bytes, frames, dataOffset: data.bodyOffset };
}
