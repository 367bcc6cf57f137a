import { OVERSAMPLING } from './decimator.ts';
import { FilterChain } from './filter-section.ts';
import { limited } from './limiter.ts';
import type { RadioSide } from './radio-side.ts';
import type { RigChannelConfig } from './rig.ts';
import type { ChannelSettings } from './settings.ts';
import { STEPS_PER_NOISE, type WhiteNoise } from './white-noise.ts';

/** One amplifier channel: input, filters, gain, ceiling, output wires. */
export class AmplifierChannel {
  /** What stands at the terminals through the frame that `run` was called for. */
  readonly volts = new Float64Array(OVERSAMPLING);
  readonly isFedLeft: boolean;
  readonly isFedRight: boolean;
  readonly #input = new Float64Array(OVERSAMPLING);
  readonly #polarity: number;
  readonly #noiseVolts: number;
  readonly #filters: FilterChain;
  #gain = 1;

  /** @param rateHz of the steps within a frame */
  constructor(config: RigChannelConfig, rateHz: number) {
    this.isFedLeft = config.fedBy !== 'right';
    this.isFedRight = config.fedBy !== 'left';
    this.#polarity = config.polarity;
    this.#noiseVolts = config.noiseVolts;
    this.#filters = new FilterChain(rateHz);
    const { highPass, lowPass } = config.filters;
    if (highPass !== null) this.#filters.add('high-pass', highPass);
    if (lowPass !== null) this.#filters.add('low-pass', lowPass);
  }

  setGain(gainDb: number): void {
    this.#gain = 10 ** (gainDb / 20);
  }

  /**
   * @param added what gets into the input besides, volts
   * @param filterShare 1 with the filters, 0 past them
   */
  run(
    left: RadioSide,
    right: RadioSide,
    added: Float64Array,
    now: ChannelSettings,
    filterShare: number,
    noise: WhiteNoise,
  ): void {
    const input = this.#input;
    const volts = this.volts;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      let sum = added[step]!;
      if (this.isFedLeft) sum += left.converterVolts[step]!;
      if (this.isFedRight) sum += right.converterVolts[step]!;
      input[step] = now.inputShare * sum;
      volts[step] = input[step]!;
    }
    this.#filters.run(volts);
    let noiseVolts = 0;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      if (step % STEPS_PER_NOISE === 0) noiseVolts = noise.draw(this.#noiseVolts);
      const past = input[step]!;
      const chosen = filterShare === 1 ? volts[step]! : past + filterShare * (volts[step]! - past);
      volts[step] = this.#polarity * limited(this.#gain * chosen + noiseVolts, now.ceilingPeakVolts, 0);
    }
  }
}
