/** WAV files put together byte by byte, so that a test can state any header it likes. */
import type { ByteSource } from '../../src/audio/wav/byte-source.ts';

export function bytesOf(...parts: (string | Uint8Array)[]): Uint8Array {
  return Uint8Array.from(
    parts.flatMap((part) =>
      typeof part === 'string' ? [...part].map((letter) => letter.charCodeAt(0)) : [...part],
    ),
  );
}

export function little(value: number | bigint, bytes: 1 | 2 | 4 | 8): Uint8Array {
  return Uint8Array.from({ length: bytes }, (_, place) =>
    Number((BigInt(value) >> BigInt(8 * place)) & 0xffn),
  );
}

/** A chunk with its pad byte; `statedBytes` for a size that is not the true one. */
export function chunk(id: string, body: Uint8Array, statedBytes = body.length): Uint8Array {
  return bytesOf(id, little(statedBytes, 4), body, new Uint8Array(body.length % 2));
}

export interface FormatFields {
  tag?: number;
  channelCount?: number;
  sampleRateHz?: number;
  bits?: number;
  bytesPerFrame?: number;
}

export function formatBody(fields: FormatFields = {}): Uint8Array {
  const { tag = 1, channelCount = 1, sampleRateHz = 48_000, bits = 16 } = fields;
  const { bytesPerFrame = channelCount * Math.ceil(bits / 8) } = fields;
  return bytesOf(
    little(tag, 2),
    little(channelCount, 2),
    little(sampleRateHz, 4),
    little(sampleRateHz * bytesPerFrame, 4),
    little(bytesPerFrame, 2),
    little(bits, 2),
  );
}

/** `statedBytes` is the size in the RIFF header where it is not the true one. */
export function riff(chunks: Uint8Array[], id = 'RIFF', statedBytes?: number): Uint8Array {
  const body = bytesOf('WAVE', ...chunks);
  return bytesOf(id, little(statedBytes ?? body.length, 4), body);
}

/** Keeps count of what was read, and hands out one buffer again and again as a file on disk does. */
export function byteSource(bytes: Uint8Array): ByteSource & { readonly longestRead: number } {
  let longestRead = 0;
  return {
    size: bytes.length,
    get longestRead() {
      return longestRead;
    },
    async read(offset, length) {
      if (offset < 0 || offset + length > bytes.length) throw new Error('read past the end of the file');
      longestRead = Math.max(longestRead, length);
      return bytes.slice(offset, offset + length);
    },
  };
}
