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
    this.#gain = new Float64Array(count);
    this.#a1 = new Float64Array(count);
    this.#a2 = new Float64Array(count);
    this.#state = new Float64Array(2 * count);
    this.#sums = new Float64Array(bands.length);
    bands.forEach(({ lowHz, highHz }, band) => {
      const { gain, a1, a2 } = bandSections(bandShape(lowHz, highHz, sampleRateHz));
      this.#gain.set(gain, band * SECTIONS);
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
      for (let band = 0; band < this.bands.length; band += 1) {
        for (let n = 0; n < count; n += 1) this.#line[n] = samples[start + n]!;
        for (let place = band * SECTIONS; place < (band + 1) * SECTIONS; place += 1) {
          this.#filter(place, count);
        }
        let sum = 0;
        for (let n = 0; n < count; n += 1) sum += this.#line[n]! * this.#line[n]!;
        this.#sums[band]! += sum;
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

  /** One biquad over the line, in place: transposed direct form II. */
  #filter(place: number, count: number): void {
    const line = this.#line;
    const gain = this.#gain[place]!;
    const a1 = this.#a1[place]!;
    const a2 = this.#a2[place]!;
    let first = this.#state[2 * place]!;
    let second = this.#state[2 * place + 1]!;
    for (let n = 0; n < count; n += 1) {
      const x = gain * line[n]!;
      const y = x + first;
      first = second - a1 * y;
      second = -x - a2 * y;
      line[n] = y;
    }
    this.#state[2 * place] = Math.abs(first) < SILENCE ? 0 : first;
    this.#state[2 * place + 1] = Math.abs(second) < SILENCE ? 0 : second;
  }
}
