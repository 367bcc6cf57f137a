import { Comb } from './comb.ts';
import { OVERSAMPLING } from './decimator.ts';
import type { RigConfig } from './rig.ts';
import type { SharedSettings } from './settings.ts';

/** What engine and mains add at every amplifier's input, volts; straight between frames. */
export class Interference {
  readonly #whine: Comb;
  readonly #hum: Comb;
  readonly #mainsHz: number;
  /** Through the frame, one value for each step. */
  readonly volts = new Float64Array(OVERSAMPLING);
  #after = 0;

  constructor(config: RigConfig) {
    this.#whine = new Comb(config.engine.whine.harmonicsDb, config.sampleRateHz);
    this.#hum = new Comb(config.mains.harmonicsDb, config.sampleRateHz);
    this.#mainsHz = config.mains.frequencyHz;
  }

  /** To the next frame. */
  advance(now: SharedSettings): void {
    const before = this.#after;
    this.#after =
      this.#whine.next(now.whinePeakVolts, now.whineHz) + this.#hum.next(now.humPeakVolts, this.#mainsHz);
    const rise = (this.#after - before) / OVERSAMPLING;
    for (let step = 0; step < OVERSAMPLING; step += 1) this.volts[step] = before + step * rise;
  }
}
