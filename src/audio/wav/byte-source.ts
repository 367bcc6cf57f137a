/** Bytes that can be read from any place: a file on disk, a `Blob` in the page. */
export interface ByteSource {
  /** Length in bytes. */
  readonly size: number;
  /**
   * Exactly `length` bytes from `offset`; both lie inside `size`. The bytes
   * are good until the next read, which may use the same memory again.
   */
  read(offset: number, length: number): Promise<Uint8Array>;
}
