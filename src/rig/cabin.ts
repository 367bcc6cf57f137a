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

  /**
   * Adds one frame of the microphone, full scale 1.0 times `scale`, to the first place of `into`, once all
   * channels have moved on.
   */
  addHeard(now: SharedSettings, scale: number, into: Float64Array): void {
    for (let index = 0; index < this.channels.length; index += 1) {
      const channel = this.channels[index]!;
      const share = scale * now.speakers;
      if (now.position0 > 0) channel.addHeard(0, share * now.position0, into);
      if (now.position1 > 0) channel.addHeard(1, share * now.position1, into);
      if (now.position2 > 0) channel.addHeard(2, share * now.position2, into);
      if (now.position3 > 0) channel.addHeard(3, share * now.position3, into);
    }
    this.#ambient += this.#ambientShare * (this.#unit() - this.#ambient);
    const ambient = now.ambientRms * this.#ambientScale * this.#ambient;
    into[0] = into[0]! + scale * (ambient + this.#microphoneNoise * this.#unit());
  }

  /** White, variance 1. */
  #unit(): number {
    return UNIT_WIDTH * (this.#random.next() - 0.5);
  }
}
