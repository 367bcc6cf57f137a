import { OVERSAMPLING } from './decimator.ts';
import { FirstOrder, turnOf } from './filter-section.ts';
import { limited } from './limiter.ts';
import type { RigConfig } from './rig.ts';
import type { SharedSettings } from './settings.ts';
import { STEPS_PER_NOISE, type WhiteNoise } from './white-noise.ts';

/** One output of the radio and the converter behind it. */
export class RadioSide {
  /** What stands at both outputs through the frame that `run` was called for; zeros before the first. */
  readonly radioVolts = new Float64Array(OVERSAMPLING);
  readonly converterVolts = new Float64Array(OVERSAMPLING);
  readonly #config: RigConfig;
  readonly #converterGain: number;
  readonly #bassCut: FirstOrder | null;
  readonly #unloaded: FirstOrder | null;

  /** @param rateHz of the steps within a frame */
  constructor(config: RigConfig, rateHz: number) {
    const { bassCut, unloaded } = config.radio;
    this.#config = config;
    this.#converterGain = 10 ** (config.converter.gainDb / 20);
    this.#bassCut = bassCut === null ? null : new FirstOrder(turnOf(bassCut.cornerHz, rateHz), false);
    this.#unloaded = unloaded === null ? null : new FirstOrder(turnOf(unloaded.cornerHz, rateHz), false);
  }

  /** @param converterShare 1 while the converter is awake */
  run(signal: Float64Array, now: SharedSettings, converterShare: number, noise: WhiteNoise): void {
    const { radio, converter } = this.#config;
    const softness = radio.softness ?? 0;
    let radioNoiseVolts = 0;
    let converterNoiseVolts = 0;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      if (step % STEPS_PER_NOISE === 0) {
        radioNoiseVolts = noise.draw(radio.noiseVolts);
        converterNoiseVolts = noise.draw(converter.noiseVolts);
      }
      const toneVolts = this.#shaped(signal[step]!, now) * now.radioPeakVolts;
      const heard = limited(toneVolts + radioNoiseVolts, radio.ceilingPeakVolts, softness);
      const line = this.#converterGain * heard + converterNoiseVolts;
      this.radioVolts[step] = heard;
      this.converterVolts[step] = converterShare * limited(line, converter.ceilingPeakVolts, 0);
    }
  }

  #shaped(signal: number, now: SharedSettings): number {
    let shaped = signal;
    if (this.#bassCut !== null) shaped -= now.bassCutDepth * this.#bassCut.step(shaped);
    if (this.#unloaded !== null) {
      shaped = now.unloadedGain * (shaped - now.unloadedDepth * this.#unloaded.step(shaped));
    }
    return shaped;
  }

  /** Highest voltage at the radio's output within the frame. */
  peakVolts(): number {
    let peak = 0;
    for (let step = 0; step < OVERSAMPLING; step += 1)
      peak = Math.max(peak, Math.abs(this.radioVolts[step]!));
    return peak;
  }
}
