import { FirstOrder, turnOf } from './filter-section.ts';
import { limited } from './limiter.ts';
import type { RigConfig } from './rig.ts';
import type { SharedSettings } from './settings.ts';
import type { WhiteNoise } from './white-noise.ts';

/** One output of the radio and the converter behind it. */
export class RadioSide {
  /** What stands at both outputs after `run`. */
  radioVolts = 0;
  converterVolts = 0;
  readonly #config: RigConfig;
  readonly #converterGain: number;
  readonly #bassCut: FirstOrder | null;
  readonly #unloaded: FirstOrder | null;
  #radioNoiseVolts = 0;
  #converterNoiseVolts = 0;

  /** @param rateHz at which `run` is called */
  constructor(config: RigConfig, rateHz: number) {
    const { bassCut, unloaded } = config.radio;
    this.#config = config;
    this.#converterGain = 10 ** (config.converter.gainDb / 20);
    this.#bassCut = bassCut === null ? null : new FirstOrder(turnOf(bassCut.cornerHz, rateHz), false);
    this.#unloaded = unloaded === null ? null : new FirstOrder(turnOf(unloaded.cornerHz, rateHz), false);
  }

  drawNoise(noise: WhiteNoise): void {
    this.#radioNoiseVolts = noise.draw(this.#config.radio.noiseVolts);
    this.#converterNoiseVolts = noise.draw(this.#config.converter.noiseVolts);
  }

  /** @param converterShare 1 while the converter is awake */
  run(signal: number, now: SharedSettings, converterShare: number): void {
    const { radio, converter } = this.#config;
    let shaped = signal;
    if (this.#bassCut !== null) shaped -= now.bassCutDepth * this.#bassCut.run(shaped);
    if (this.#unloaded !== null) {
      shaped = now.unloadedGain * (shaped - now.unloadedDepth * this.#unloaded.run(shaped));
    }
    const toneVolts = shaped * now.radioPeakVolts;
    this.radioVolts = limited(toneVolts + this.#radioNoiseVolts, radio.ceilingPeakVolts, radio.softness ?? 0);
    this.converterVolts =
      converterShare *
      limited(
        this.#converterGain * this.radioVolts + this.#converterNoiseVolts,
        converter.ceilingPeakVolts,
        0,
      );
  }
}
