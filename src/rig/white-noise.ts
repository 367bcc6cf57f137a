import type { Random } from '../dsp/tones/random.ts';
import { OVERSAMPLING } from './decimator.ts';

/** A uniform number of this width has variance 1. */
const UNIT_WIDTH = Math.sqrt(12);

/** Noise is drawn at this share of the oversampled rate and held between: its band is wide enough, and it is cheap. */
export const STEPS_PER_NOISE = 4;

/** White to half the rate at which it is drawn: the stated RMS is what falls in 20 kHz. */
export class WhiteNoise {
  readonly #random: Random;
  readonly #scale: number;

  constructor(random: Random, sampleRateHz: number) {
    this.#random = random;
    this.#scale = UNIT_WIDTH * Math.sqrt((sampleRateHz * OVERSAMPLING) / STEPS_PER_NOISE / 2 / 20_000);
  }

  draw(volts: number): number {
    return volts * this.#scale * (this.#random.next() - 0.5);
  }
}
