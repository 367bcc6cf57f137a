/**
 * MD5 (RFC 1321), piece by piece. A FLAC file carries the digest of its samples, by which a decoder shows that it gave
 * them back unchanged. It guards against accidents, not against anyone's will.
 */
export class Md5 {
  readonly #state = Uint32Array.of(0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476);
  readonly #block = new Uint8Array(64);
  readonly #words = new DataView(this.#block.buffer);
  #filled = 0;
  #bytes = 0;

  push(bytes: Uint8Array): void {
    this.#bytes += bytes.length;
    let at = 0;
    while (at < bytes.length) {
      const take = Math.min(64 - this.#filled, bytes.length - at);
      this.#block.set(bytes.subarray(at, at + take), this.#filled);
      this.#filled += take;
      at += take;
      if (this.#filled === 64) this.#digestBlock();
    }
  }

  /** To be called once, at the end: 16 bytes. */
  finish(): Uint8Array {
    const bits = this.#bytes * 8;
    const padding = new Uint8Array(((119 - (this.#bytes % 64)) % 64) + 1);
    padding[0] = 0x80;
    this.push(padding);
    this.#words.setUint32(56, bits >>> 0, true);
    this.#words.setUint32(60, Math.floor(bits / 2 ** 32), true);
    this.#digestBlock();
    const digest = new DataView(new ArrayBuffer(16));
    for (const [word, value] of this.#state.entries()) digest.setUint32(4 * word, value, true);
    return new Uint8Array(digest.buffer);
  }

  #digestBlock(): void {
    let [a, b, c, d] = this.#state as unknown as [number, number, number, number];
    for (let step = 0; step < 64; step += 1) {
      const round = step >> 4;
      let mixed: number;
      let word: number;
      if (round === 0) [mixed, word] = [(b & c) | (~b & d), step];
      else if (round === 1) [mixed, word] = [(b & d) | (c & ~d), (5 * step + 1) % 16];
      else if (round === 2) [mixed, word] = [b ^ c ^ d, (3 * step + 5) % 16];
      else [mixed, word] = [c ^ (b | ~d), (7 * step) % 16];
      const sum = (a + mixed + SINES[step]! + this.#words.getUint32(4 * word, true)) >>> 0;
      const turn = TURNS[round]![step % 4]!;
      [a, d, c, b] = [d, c, b, (b + ((sum << turn) | (sum >>> (32 - turn)))) >>> 0];
    }
    this.#state[0]! += a;
    this.#state[1]! += b;
    this.#state[2]! += c;
    this.#state[3]! += d;
    this.#filled = 0;
  }
}

/** RFC 1321, 3.4: whole part of 2^32 |sin(n)|, n in radians. */
const SINES = Uint32Array.from({ length: 64 }, (_, step) =>
  Math.floor(2 ** 32 * Math.abs(Math.sin(step + 1))),
);
const TURNS = [
  [7, 12, 17, 22],
  [5, 9, 14, 20],
  [4, 11, 16, 23],
  [6, 10, 15, 21],
] as const;
