import type { ByteSource } from './byte-source.ts';
import { WavError } from './wav-error.ts';

/** A file that the person chose in the page, read piece by piece. */
export function blobBytes(blob: Blob): ByteSource {
  return {
    size: blob.size,
    async read(offset, length) {
      const bytes = new Uint8Array(await blob.slice(offset, offset + length).arrayBuffer());
      if (bytes.length !== length) {
        throw new WavError(
          'The file changed while it was read; choose it again once the recorder has closed it.',
        );
      }
      return bytes;
    },
  };
}
