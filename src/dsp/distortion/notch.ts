/** AES17-2015 5.2.8: the standard notch, Q on the response as applied. */
const LEAST_NOTCH_Q = 1.2;
const MOST_NOTCH_Q = 3;

/** Transients die to -160 dB in this many cycles for each unit of Q: `exp(-pi f t / Q)`. */
const SETTLING_CYCLES_PER_Q = 5.9;

/**
 * Second-order notch, its zeros on the unit circle at the tone and its 3 dB width in hertz exactly
 * frequency over Q after sampling (P. Regalia and S. Mitra, IEEE Trans. ASSP 35(1) 1987).
 */
export class Notch {
  /** Samples at the start that still hold the switching-on. */
  readonly settlingFrames: number;
  readonly #cosine: number;
  readonly #width: number;

  /** @throws RangeError for a Q outside 1.2 to 3, or a frequency outside 0 to half the rate */
  constructor(frequencyHz: number, sampleRateHz: number, q: number) {
    if (!(q >= LEAST_NOTCH_Q && q <= MOST_NOTCH_Q)) {
      throw new RangeError(`A notch of Q ${q}; the standard one has ${LEAST_NOTCH_Q} to ${MOST_NOTCH_Q}.`);
    }
    if (!(frequencyHz > 0 && frequencyHz < sampleRateHz / 2)) {
      throw new RangeError(`A notch at ${frequencyHz} Hz does not fit a rate of ${sampleRateHz} Hz.`);
    }
    const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
    this.#cosine = Math.cos(w);
    this.#width = Math.tan(w / (2 * q));
    this.settlingFrames = Math.ceil((SETTLING_CYCLES_PER_Q * q * sampleRateHz) / frequencyHz);
  }

  /** Share of a line's power that passes, 0 at the tone. @param w radians per frame, 0 to pi */
  powerResponse(w: number): number {
    const away = (Math.cos(w) - this.#cosine) ** 2;
    return away / (away + (this.#width * Math.sin(w)) ** 2);
  }

  /** Filters from rest; a new array. */
  filtered(samples: ArrayLike<number>): Float64Array {
    const result = new Float64Array(samples.length);
    const gain = 1 / (1 + this.#width);
    const middle = -2 * this.#cosine * gain;
    const back = (1 - this.#width) * gain;
    let first = 0;
    let second = 0;
    for (let n = 0; n < samples.length; n += 1) {
      const x = samples[n]!;
      const y = gain * x + first;
      first = middle * (x - y) + second;
      second = gain * x - back * y;
      result[n] = y;
    }
    return result;
  }
}
