/** Writes numbers bit by bit, highest bit first, into bytes that grow as needed. */
export class BitWriter {
  #bytes = new Uint8Array(16_384);
  #length = 0;
  /** Bits not yet a whole byte, in the low `#pending` bits. */
  #held = 0;
  #pending = 0;

  /** @param bits 0 to 32; only that many low bits of `value` count */
  write(value: number, bits: number): void {
    if (bits > 16) {
      this.write(value >>> 16, bits - 16);
      this.write(value & 0xffff, 16);
      return;
    }
    this.#held = (this.#held << bits) | (value & ((1 << bits) - 1));
    this.#pending += bits;
    while (this.#pending >= 8) {
      this.#pending -= 8;
      this.#push(this.#held >>> this.#pending);
    }
    this.#held &= (1 << this.#pending) - 1;
  }

  /** So many zeros, then a one. */
  writeUnary(zeros: number): void {
    let left = zeros;
    for (; left >= 16; left -= 16) this.write(0, 16);
    this.write(1, left + 1);
  }

  /** Zeros up to the next whole byte. */
  align(): void {
    if (this.#pending > 0) this.write(0, 8 - this.#pending);
  }

  /** What has been written, to be copied before the next write; whole bytes only. */
  get bytes(): Uint8Array<ArrayBuffer> {
    return this.#bytes.subarray(0, this.#length);
  }

  clear(): void {
    this.#length = 0;
    this.#held = 0;
    this.#pending = 0;
  }

  #push(byte: number): void {
    if (this.#length === this.#bytes.length) {
      const grown = new Uint8Array(2 * this.#bytes.length);
      grown.set(this.#bytes);
      this.#bytes = grown;
    }
    this.#bytes[this.#length] = byte;
    this.#length += 1;
  }
}
