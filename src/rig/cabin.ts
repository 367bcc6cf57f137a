import type { Random } from '../dsp/tones/random.ts';
import { CabinChannel } from './cabin-channel.ts';
import { microphoneRms } from './cabin-path.ts';
import type { RigConfig } from './rig.ts';
import type { SharedSettings } from './settings.ts';

/** What surrounds a vehicle is mostly low: white noise falls above this. */
const AMBIENT_CORNER_HZ = 250;
const UNIT_WIDTH = Math.sqrt(12);

/** The cabin and a microphone in it. */
export class Cabin {
  readonly channels: readonly CabinChannel[];
  readonly #random: Random;
  readonly #microphoneNoise: number;
  readonly #ambientShare: number;
  readonly #ambientScale: number;
  #ambient = 0;

  constructor(config: RigConfig, random: Random) {
    this.channels = config.channels.map((channel) => new CabinChannel(config, channel));
    this.#random = random;
    this.#microphoneNoise = microphoneRms(config.cabin, config.cabin.microphoneNoiseSplDb);
    this.#ambientShare = 1 - Math.exp((-2 * Math.PI * AMBIENT_CORNER_HZ) / config.sampleRateHz);
    // Variance of white noise of variance 1 behind the low-pass: a / (2 - a).
    this.#ambientScale = Math.sqrt((2 - this.#ambientShare) / this.#ambientShare);
  }

  /** One frame of the microphone, full scale 1.0, once all audible channels have advanced. */
  heard(now: SharedSettings): number {
    let sum = 0;
    for (let index = 0; index < this.channels.length; index += 1) {
      const channel = this.channels[index]!;
      if (now.position0 > 0) sum += now.position0 * channel.heardAt(0);
      if (now.position1 > 0) sum += now.position1 * channel.heardAt(1);
      if (now.position2 > 0) sum += now.position2 * channel.heardAt(2);
      if (now.position3 > 0) sum += now.position3 * channel.heardAt(3);
    }
    this.#ambient += this.#ambientShare * (this.#unit() - this.#ambient);
    const ambient = now.ambientRms * this.#ambientScale * this.#ambient;
    return now.speakers * sum + ambient + this.#microphoneNoise * this.#unit();
  }

  /** White, variance 1. */
  #unit(): number {
    return UNIT_WIDTH * (this.#random.next() - 0.5);
  }
}
