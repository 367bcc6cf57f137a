import { FilterChain } from './filter-section.ts';
import { limited } from './limiter.ts';
import type { RigChannelConfig } from './rig.ts';
import type { ChannelSettings } from './settings.ts';
import type { WhiteNoise } from './white-noise.ts';

/** One amplifier channel: input, filters, gain, ceiling, output wires. */
export class AmplifierChannel {
  readonly isFedLeft: boolean;
  readonly isFedRight: boolean;
  readonly #polarity: number;
  readonly #noiseVolts: number;
  readonly #filters: FilterChain;
  #gain = 1;
  #drawnVolts = 0;

  /** @param rateHz at which `run` is called */
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

  drawNoise(noise: WhiteNoise): void {
    this.#drawnVolts = noise.draw(this.#noiseVolts);
  }

  /** @returns volts at the terminals for volts at the input */
  run(inputVolts: number, now: ChannelSettings, filterShare: number): number {
    const plugged = now.inputShare * inputVolts;
    const filtered = this.#filters.run(plugged);
    const chosen = filterShare === 1 ? filtered : plugged + filterShare * (filtered - plugged);
    const volts = limited(this.#gain * chosen + this.#drawnVolts, now.ceilingPeakVolts, 0);
    return this.#polarity * volts;
  }
}
