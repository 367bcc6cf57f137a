import { Comb } from './comb.ts';
import { OVERSAMPLING } from './decimator.ts';
import type { RigConfig } from './rig.ts';
import type { SharedSettings } from './settings.ts';

/** What engine and mains add at every amplifier's input, volts; straight between frames. */
export class Interference {
  readonly #whine: Comb;
  readonly #hum: Comb;
  readonly #mainsHz: number;
  #before = 0;
  #after = 0;

  constructor(config: RigConfig) {
    this.#whine = new Comb(config.engine.whine.harmonicsDb, config.sampleRateHz);
    this.#hum = new Comb(config.mains.harmonicsDb, config.sampleRateHz);
    this.#mainsHz = config.mains.frequencyHz;
  }

  /** To the next frame. */
  advance(now: SharedSettings): void {
    this.#before = this.#after;
    this.#after =
      this.#whine.next(now.whinePeakVolts, now.whineHz) + this.#hum.next(now.humPeakVolts, this.#mainsHz);
  }

  /** @param step of `OVERSAMPLING` within the frame */
  volts(step: number): number {
    return this.#before + (step / OVERSAMPLING) * (this.#after - this.#before);
  }
}
