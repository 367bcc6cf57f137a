/**
 * Seeded random numbers, the same bits on every machine: xoshiro128** of
 * D. Blackman and S. Vigna, "Scrambled linear pseudorandom number generators"
 * (ACM TOMS 47(4), 2021), its state filled by splitmix32. Period 2^128 - 1.
 */
export class Random {
  readonly #state = new Uint32Array(4);

  /** @param seed any finite number; its whole part below 2^32 counts */
  constructor(seed: number) {
    let mixed = Math.floor(seed) >>> 0;
    for (let word = 0; word < 4; word += 1) {
      mixed = (mixed + 0x9e3779b9) >>> 0;
      let z = mixed;
      z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
      z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
      this.#state[word] = z ^ (z >>> 15);
    }
  }

  /** A whole number from 0 to 2^32 - 1, all equally likely. */
  nextUint32(): number {
    const state = this.#state;
    const scrambled = Math.imul(rotateLeft(Math.imul(state[1]!, 5), 7), 9) >>> 0;
    const shifted = state[1]! << 9;
    state[2]! ^= state[0]!;
    state[3]! ^= state[1]!;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= shifted;
    state[3] = rotateLeft(state[3]!, 11);
    return scrambled;
  }

  /** Uniform in [0, 1), in steps of 2^-32. */
  next(): number {
    return this.nextUint32() / 2 ** 32;
  }

  /** Triangular between -1 and 1, mean 0, variance 1/6: the difference of two uniform numbers. */
  nextTriangular(): number {
    return (this.nextUint32() - this.nextUint32()) / 2 ** 32;
  }
}

function rotateLeft(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}
