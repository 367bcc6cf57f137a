import { BYTES_PER_SAMPLE, type SampleFormat } from './sample-format.ts';
import { WavError } from './wav-error.ts';

/** What the `fmt ` chunk says, checked. */
export interface WavFormat {
  sampleRateHz: number;
  channelCount: number;
  sampleFormat: SampleFormat;
  bytesPerFrame: number;
}

const TAG_PCM = 1;
const TAG_FLOAT = 3;
const TAG_EXTENSIBLE = 0xfffe;
/** Bytes 2 to 15 of every GUID whose first two bytes are a plain format tag (`xxxx0000-0000-0010-8000-00AA00389B71`). */
const GUID_TAIL = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];
const READABLE = 'PCM of 8, 16, 24 or 32 bits, or float of 32 or 64 bits';

/** Longest stretch of a `fmt ` chunk that is ever looked at. */
export const FORMAT_CHUNK_BYTES = 40;

function formatTag(view: DataView): number {
  const tag = view.getUint16(0, true);
  if (tag !== TAG_EXTENSIBLE) return tag;
  const tailIsKnown =
    view.byteLength >= FORMAT_CHUNK_BYTES &&
    GUID_TAIL.every((byte, place) => view.getUint8(26 + place) === byte);
  if (!tailIsKnown) {
    throw new WavError(`The file is stored in an unknown extended format; it must be ${READABLE}.`);
  }
  return view.getUint16(24, true);
}

/** Odd widths (12, 20 bits) are left-justified in whole bytes, so the container alone decides. */
function sampleFormatOf(tag: number, bits: number): SampleFormat {
  const bytes = Math.ceil(bits / 8);
  if (tag === TAG_PCM && bytes >= 1 && bytes <= 4) return `pcm${(bytes * 8) as 8 | 16 | 24 | 32}`;
  if (tag === TAG_FLOAT && bits === 32) return 'float32';
  if (tag === TAG_FLOAT && bits === 64) return 'float64';
  const what =
    tag === TAG_PCM || tag === TAG_FLOAT ? `${bits}-bit samples` : `coded sound (format tag ${tag})`;
  throw new WavError(`The file holds ${what}; it must be ${READABLE}.`);
}

/**
 * @param body the chunk's bytes after its size, as many as there are up to `FORMAT_CHUNK_BYTES`
 * @throws WavError for a format, rate or layout that cannot be read
 */
export function readFormatChunk(body: Uint8Array): WavFormat {
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength);
  if (view.byteLength < 16) {
    throw new WavError(`The format chunk has ${view.byteLength} bytes; a WAV file has at least 16 there.`);
  }
  const tag = formatTag(view);
  const channelCount = view.getUint16(2, true);
  const sampleRateHz = view.getUint32(4, true);
  const bytesPerFrame = view.getUint16(12, true);
  const bits = view.getUint16(14, true);
  const sampleFormat = sampleFormatOf(tag, bits);
  if (channelCount === 0) throw new WavError('The header states 0 channels; at least one is needed.');
  if (sampleRateHz < 8_000 || sampleRateHz > 192_000) {
    throw new WavError(
      `The header states a sample rate of ${sampleRateHz} Hz; it must lie from 8000 to 192000 Hz.`,
    );
  }
  const expectedBytes = channelCount * BYTES_PER_SAMPLE[sampleFormat];
  if (bytesPerFrame !== expectedBytes) {
    throw new WavError(
      `The header contradicts itself: ${channelCount} channels of ${bits} bits take ${expectedBytes} bytes a frame, it states ${bytesPerFrame}.`,
    );
  }
  return { sampleRateHz, channelCount, sampleFormat, bytesPerFrame };
}
