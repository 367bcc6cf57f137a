import { readSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import type { ByteSource } from '../audio/wav/byte-source.ts';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/** A file on disk as a source of bytes, read into one buffer that grows to the longest read. */
export class FileBytes implements ByteSource {
  readonly size: number;
  readonly #path: string;
  readonly #handle: FileHandle;
  #buffer = new Uint8Array(0);

  private constructor(path: string, handle: FileHandle, size: number) {
    this.#path = path;
    this.#handle = handle;
    this.size = size;
  }

  /** @throws UsageError when there is no such file, or it cannot be read */
  static async open(path: string): Promise<FileBytes> {
    const handle = await open(path, 'r').catch((error: unknown) => {
      throw fileFault(path, error);
    });
    const facts = await handle.stat();
    if (facts.isFile()) return new FileBytes(path, handle, facts.size);
    await handle.close();
    const what = facts.isDirectory() ? 'a folder' : 'not an ordinary file';
    throw new UsageError(`${path}: this is ${what}; a file is needed.`);
  }

  /** Reads at once: handing each block to another thread and back takes longer than copying it. */
  async read(offset: number, length: number): Promise<Uint8Array> {
    if (this.#buffer.length < length) this.#buffer = new Uint8Array(length);
    let filled = 0;
    while (filled < length) {
      const bytesRead = readSync(this.#handle.fd, this.#buffer, filled, length - filled, offset + filled);
      if (bytesRead === 0) throw new UsageError(`${this.#path}: the file became shorter while it was read.`);
      filled += bytesRead;
    }
    return this.#buffer.subarray(0, length);
  }

  async close(): Promise<void> {
    await this.#handle.close();
  }
}
