import { bandSections, bandShape } from './butterworth-band.ts';
import type { FractionalOctaveBand } from './fractional-octave.ts';

const SECTIONS = 4;
/** Frames that one band filters before the next has its turn; also how often dying states are cut off. */
const STEP = 256;
/** A state below this (-3000 dB) is silence; far lower ones would be denormal and slow. */
const SILENCE = 1e-150;

/**
 * Band levels of a stream by a bank of filters, one for each band, each 1/n-octave filter within the class 1
 * limits of IEC 61260-1:2014 (checked from 10 Hz up to the 16 kHz third-octave at 44.1 kHz and the 20 kHz one at 48 kHz).
 * All run at the full rate in doubles. A filter takes about 4 / bandwidth to settle, and what it still rings
 * with counts: `restart` after that leaves the start-up out.
 *
 * NaN stays in the filters until `reset`. Nothing is allocated after construction.
 */
export class OctaveFilterBank {
  readonly bands: readonly FractionalOctaveBand[];
  /** Frames in the means so far. */
  frames = 0;
  readonly #gain: Float64Array;
  readonly #a1: Float64Array;
  readonly #a2: Float64Array;
  readonly #state: Float64Array;
  readonly #sums: Float64Array;
  readonly #line = new Float64Array(STEP);

  /** @throws RangeError where a band reaches half the sample rate */
  constructor(bands: readonly FractionalOctaveBand[], sampleRateHz: number) {
    this.bands = bands;
    const count = bands.length * SECTIONS;
    this.#gain = new Float64Array(bands.length);
    this.#a1 = new Float64Array(count);
    this.#a2 = new Float64Array(count);
    this.#state = new Float64Array(2 * count);
    this.#sums = new Float64Array(bands.length);
    bands.forEach(({ lowHz, highHz }, band) => {
      const { gain, a1, a2 } = bandSections(bandShape(lowHz, highHz, sampleRateHz));
      this.#gain[band] = gain.reduce((product, factor) => product * factor, 1);
      this.#a1.set(a1, band * SECTIONS);
      this.#a2.set(a2, band * SECTIONS);
    });
  }

  /** Forgets everything. */
  reset(): void {
    this.#state.fill(0);
    this.restart();
  }

  /** Begins new means; the filters keep ringing. */
  restart(): void {
    this.#sums.fill(0);
    this.frames = 0;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    for (let start = from; start < to; start += STEP) {
      const count = Math.min(STEP, to - start);
      for (let n = 0; n < count; n += 1) this.#line[n] = samples[start + n]!;
      for (let band = 0; band < this.bands.length; band += 1) {
        this.#filter(band, count);
      }
      this.frames += count;
    }
  }

  /** Mean square of each band since the last restart, full scale 1.0 squared; 0 before the first frame. */
  meanSquares(into: Float64Array): void {
    for (let band = 0; band < this.bands.length; band += 1) {
      into[band] = this.frames > 0 ? this.#sums[band]! / this.frames : 0;
    }
  }

  /**
   * The line through the band's four biquads (transposed direct form II), all in one loop: each waits for its
   * own last output, and four that wait at once cost little more than one. Adds up the squares of what comes out.
   */
  #filter(band: number, count: number): void {
    const line = this.#line;
    const state = this.#state;
    const at = band * SECTIONS;
    const to = 2 * at;
    const gain = this.#gain[band]!;
    const a1 = this.#a1;
    const a2 = this.#a2;
    const p1 = a1[at]!,
      q1 = a2[at]!,
      p2 = a1[at + 1]!,
      q2 = a2[at + 1]!;
    const p3 = a1[at + 2]!,
      q3 = a2[at + 2]!,
      p4 = a1[at + 3]!,
      q4 = a2[at + 3]!;
    let s1 = state[to]!,
      t1 = state[to + 1]!,
      s2 = state[to + 2]!,
      t2 = state[to + 3]!;
    let s3 = state[to + 4]!,
      t3 = state[to + 5]!,
      s4 = state[to + 6]!,
      t4 = state[to + 7]!;
    let sum = 0;
    for (let n = 0; n < count; n += 1) {
      const x = gain * line[n]!;
      const y1 = x + s1;
      s1 = t1 - p1 * y1;
      t1 = -x - q1 * y1;
      const y2 = y1 + s2;
      s2 = t2 - p2 * y2;
      t2 = -y1 - q2 * y2;
      const y3 = y2 + s3;
      s3 = t3 - p3 * y3;
      t3 = -y2 - q3 * y3;
      const y4 = y3 + s4;
      s4 = t4 - p4 * y4;
      t4 = -y3 - q4 * y4;
      sum += y4 * y4;
    }
    state[to] = s1;
    state[to + 1] = t1;
    state[to + 2] = s2;
    state[to + 3] = t2;
    state[to + 4] = s3;
    state[to + 5] = t3;
    state[to + 6] = s4;
    state[to + 7] = t4;
    this.#cutOff(to);
    this.#sums[band]! += sum;
  }

  #cutOff(first: number): void {
    for (let place = first; place < first + 2 * SECTIONS; place += 1) {
      if (Math.abs(this.#state[place]!) < SILENCE) this.#state[place] = 0;
    }
  }
}
