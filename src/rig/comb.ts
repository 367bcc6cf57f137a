/** A fundamental and its harmonics, frame by frame, their phases spread so that the crests do not all meet. */
export class Comb {
  readonly #amplitudes: readonly number[];
  readonly #rateHz: number;
  #cycles = 0;

  /** @param harmonicsDb 2nd harmonic first, dB against the fundamental */
  constructor(harmonicsDb: readonly number[], sampleRateHz: number) {
    this.#amplitudes = [1, ...harmonicsDb.map((db) => 10 ** (db / 20))];
    this.#rateHz = sampleRateHz;
  }

  /** Next value; the phase runs on through a change of frequency. Harmonics past half the rate are left out. */
  next(fundamentalPeak: number, frequencyHz: number): number {
    this.#cycles = (this.#cycles + frequencyHz / this.#rateHz) % 1;
    if (fundamentalPeak === 0) return 0;
    let sum = 0;
    for (let index = 0; index < this.#amplitudes.length; index += 1) {
      const order = index + 1;
      if (order * frequencyHz >= this.#rateHz / 2) break;
      sum += this.#amplitudes[index]! * Math.sin(2 * Math.PI * (order * this.#cycles + 0.13 * index * index));
    }
    return fundamentalPeak * sum;
  }
}
