import type { Random } from '../dsp/tones/random.ts';
import { AutomaticGain } from './automatic-gain.ts';
import type { RigConfig } from './rig.ts';

/** Triangular numbers have variance 1/6; the sum of two has 1/3 and is near enough to a bell. */
const UNIT_FROM_TWO_TRIANGLES = Math.sqrt(3);

/**
 * The simulated input: volts to full scale, its own noise, then the codes of
 * `bits`. Past full scale the codes stand still, as a converter's do.
 */
export class InputConverter {
  readonly #perVolt: number;
  readonly #noiseScale: number;
  readonly #steps: number;
  readonly #random: Random;
  readonly #automaticGain: AutomaticGain | null;

  constructor(input: RigConfig['input'], sampleRateHz: number, random: Random) {
    this.#perVolt = 1 / (input.voltsPerFs * Math.SQRT2);
    this.#noiseScale = UNIT_FROM_TWO_TRIANGLES * Math.SQRT1_2 * 10 ** (input.noiseDbfs / 20);
    this.#steps = 2 ** (input.bits - 1);
    this.#random = random;
    this.#automaticGain =
      input.automaticGain === null ? null : new AutomaticGain(input.automaticGain, sampleRateHz);
  }

  /**
   * Writes one frame, full scale 1.0 = 2^(bits-1) codes, of which the highest is one short.
   *
   * @param volts in its first place, for the first channel; nothing is connected to the others
   */
  convert(volts: Float64Array, channels: readonly Float32Array[], frame: number): void {
    for (let channel = 0; channel < channels.length; channel += 1) {
      const noise = this.#random.nextTriangular() + this.#random.nextTriangular();
      const heard = (channel === 0 ? volts[0]! * this.#perVolt : 0) + noise * this.#noiseScale;
      const ridden = channel === 0 && this.#automaticGain !== null ? this.#automaticGain.run(heard) : heard;
      const code = Math.round(ridden * this.#steps);
      channels[channel]![frame] = Math.min(this.#steps - 1, Math.max(-this.#steps, code)) / this.#steps;
    }
  }
}
