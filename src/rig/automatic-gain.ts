import type { RigAutomaticGain } from './rig-parts.ts';

/** Of the level that it follows. */
const LEVEL_SECONDS = 0.2;

/** Rides the level of an input, slowly enough to leave every wave as it is. */
export class AutomaticGain {
  readonly #setup: RigAutomaticGain;
  readonly #follow: number;
  readonly #stepDb: number;
  #meanSquare: number;
  #gainDb = 0;

  constructor(setup: RigAutomaticGain, sampleRateHz: number) {
    this.#setup = setup;
    this.#follow = 1 / (LEVEL_SECONDS * sampleRateHz);
    this.#stepDb = setup.dbPerSecond / sampleRateHz;
    // As if it had heard its own level before: no gain.
    this.#meanSquare = 0.5 * 10 ** (setup.towardDbfs / 10);
  }

  /** @param sample full scale 1.0 */
  run(sample: number): number {
    const { towardDbfs, share, farthestDb } = this.#setup;
    this.#meanSquare += this.#follow * (sample * sample - this.#meanSquare);
    const levelDbfs = 10 * Math.log10(2 * this.#meanSquare + 1e-20);
    const wanted = Math.min(farthestDb, Math.max(-farthestDb, share * (towardDbfs - levelDbfs)));
    this.#gainDb += Math.min(this.#stepDb, Math.max(-this.#stepDb, wanted - this.#gainDb));
    return sample * 10 ** (this.#gainDb / 20);
  }
}
