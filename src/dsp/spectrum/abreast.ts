/** One complex number, handed in to be filled. */
export interface Complex {
  re: number;
  im: number;
}

/** A transform of one or more real signals at once. All scalings are those of `RealFft`. */
export interface RealTransform {
  /** Of each signal; a power of two. */
  readonly length: number;
  /** How many signals are transformed at once. */
  readonly abreast: 1 | 2;
  /** Sample `n` of signal `s` goes to `input[n * abreast + s]`; kept as it was by the transform. */
  readonly input: Float64Array;
  transform(): void;
  /** @param bin 0 to `length/2` */
  bin(signal: number, bin: number, into: Complex): void;
  /** Adds the squared magnitudes of all signals to `power`, bins 0 to `length/2`. */
  addPower(power: Float64Array): void;
}
