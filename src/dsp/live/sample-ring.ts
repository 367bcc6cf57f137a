/**
 * The newest samples of one channel. Owns one buffer whose length is a power
 * of two; nothing is allocated after construction.
 */
export class SampleRing {
  readonly #samples: Float32Array;
  readonly #mask: number;
  #written = 0;

  /** @param capacityFrames a power of two, at least the longest window asked for. */
  constructor(capacityFrames: number) {
    if (capacityFrames < 1 || (capacityFrames & (capacityFrames - 1)) !== 0)
      throw new RangeError(`A ring of ${capacityFrames} frames is not a power of two.`);
    this.#samples = new Float32Array(capacityFrames);
    this.#mask = capacityFrames - 1;
  }

  /** Frames written since construction or `clear`; may exceed the capacity. */
  get framesWritten(): number {
    return this.#written;
  }

  /** Appends a block. What is not a finite number is stored as 0: one NaN would spoil every window it lies in. */
  write(block: Float32Array): void {
    const samples = this.#samples;
    const mask = this.#mask;
    let at = this.#written & mask;
    for (let i = 0; i < block.length; i++) {
      const value = block[i] as number;
      samples[at] = Number.isFinite(value) ? value : 0;
      at = (at + 1) & mask;
    }
    this.#written += block.length;
  }

  /**
   * Copies the newest `target.length` frames, oldest first.
   * @throws RangeError when fewer were written, or more are asked for than the ring holds.
   */
  copyNewest(target: Float32Array | Float64Array): void {
    const frames = target.length;
    if (frames > this.#samples.length || frames > this.#written)
      throw new RangeError(
        `The ring holds ${Math.min(this.#written, this.#samples.length)} of ${frames} frames.`,
      );
    const start = (this.#written - frames) & this.#mask;
    const first = Math.min(frames, this.#samples.length - start);
    target.set(this.#samples.subarray(start, start + first), 0);
    if (first < frames) target.set(this.#samples.subarray(0, frames - first), first);
  }

  clear(): void {
    this.#written = 0;
  }
}
