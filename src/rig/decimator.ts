import { besselI0 } from '../dsp/spectrum/kaiser.ts';
/**
 * From sixteen times the sample rate down to it, in two steps (16 to 2, 2 to 1),
 * so that the steep filter runs at the low rate. What lies above the audio
 * band after decimation is not needed, so only what would fold *into* the band
 * is stopped.
 */

/**
 * Rate of the analogue stages against the rate of the samples. A corner's
 * harmonics fall with the square of their order, and those that fold into the
 * band are the ones beside this rate: at 48 kHz the 770th of a 1 kHz tone,
 * 115 dB under the ceiling.
 */
export const OVERSAMPLING = 16;

/** How far below the signal anything that folds into the band lies: under a 16-bit converter's noise by 12 dB. */
const WIRE_STOPBAND_DB = 110;

/** The same where a microphone listens: under its own noise at the loudest it takes. */
export const MICROPHONE_STOPBAND_DB = 85;

/** Upper edge of what is kept: 20 kHz (AES17 5.2.5), or as much of it as a low rate holds. */
function keptBandHz(sampleRateHz: number): number {
  return Math.min(20_000, 0.4535 * sampleRateHz);
}

/**
 * Linear-phase low-pass, Kaiser window, unity gain at 0 Hz. Length and shape
 * from Oppenheim and Schafer, "Discrete-Time Signal Processing", section 7.5.3.
 *
 * @param passCycles and `stopCycles` in cycles per sample of the filter's input
 * @param stopbandDb 50 or more
 */
function lowPassTaps(passCycles: number, stopCycles: number, stopbandDb: number): Float64Array {
  const half = Math.ceil((stopbandDb - 7.95) / (14.36 * (stopCycles - passCycles)) / 2);
  const beta = 0.1102 * (stopbandDb - 8.7);
  const cutoff = 0.5 * (passCycles + stopCycles);
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let index = 0; index < taps.length; index += 1) {
    const offset = index - half;
    const ideal = offset === 0 ? 2 * cutoff : Math.sin(2 * Math.PI * cutoff * offset) / (Math.PI * offset);
    taps[index] = ideal * besselI0(beta * Math.sqrt(1 - (offset / half) ** 2));
    sum += taps[index]!;
  }
  for (let index = 0; index < taps.length; index += 1) taps[index] = taps[index]! / sum;
  return taps;
}

/** A FIR filter with its delay line; written twice over, so that it can be read in one run. */
class FilterLine {
  readonly #taps: Float64Array;
  readonly #line: Float64Array;
  #at = 0;

  constructor(taps: Float64Array) {
    this.#taps = taps;
    this.#line = new Float64Array(2 * taps.length);
  }

  get halfLength(): number {
    return (this.#taps.length - 1) / 2;
  }

  push(sample: number): void {
    const length = this.#taps.length;
    this.#line[this.#at] = sample;
    this.#line[this.#at + length] = sample;
    this.#at = this.#at + 1 === length ? 0 : this.#at + 1;
  }

  output(): number {
    const taps = this.#taps;
    const line = this.#line;
    const start = this.#at;
    let sum = 0;
    for (let index = 0; index < taps.length; index += 1) sum += taps[index]! * line[start + index]!;
    return sum;
  }
}

/** Keeps 0 Hz to `keptBandHz`; allocates nothing after construction. */
export class Decimator {
  readonly #first: FilterLine;
  readonly #second: FilterLine;

  constructor(sampleRateHz: number, stopbandDb = WIRE_STOPBAND_DB) {
    const pass = keptBandHz(sampleRateHz) / sampleRateHz;
    this.#first = new FilterLine(lowPassTaps(pass / OVERSAMPLING, (2 - pass) / OVERSAMPLING, stopbandDb));
    this.#second = new FilterLine(lowPassTaps(pass / 2, (1 - pass) / 2, stopbandDb));
  }

  /**
   * Frames by which an output lags behind the start of its frame: half of
   * both filters, less what of the frame has gone in when it comes out.
   */
  get delayFrames(): number {
    return (
      this.#first.halfLength / OVERSAMPLING + this.#second.halfLength / 2 - (OVERSAMPLING - 1) / OVERSAMPLING
    );
  }

  /** Takes the `OVERSAMPLING` samples of one frame; the one at the low rate goes to the first place of `into`. */
  run(values: Float64Array, into: Float64Array): void {
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      this.#first.push(values[step]!);
      if (step === OVERSAMPLING / 2 - 1 || step === OVERSAMPLING - 1) this.#second.push(this.#first.output());
    }
    into[0] = this.#second.output();
  }
}
