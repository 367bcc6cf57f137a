import type { RigSettings } from './settings.ts';

/** A hand on a control is slower than this; a step within it would be heard as a click. */
const RAMP_SECONDS = 0.02;

const FIGURES = [
  'leftPeak',
  'rightPeak',
  'radioPeakVolts',
  'leftWeight',
  'rightWeight',
  'amplifierGainDb',
  'amplifierCeilingPeakVolts',
  'amplifierNoiseVolts',
] as const satisfies readonly (keyof RigSettings)[];

/** Leads every setting from where it is to where it should be along half a cosine; a new aim starts anew from here. */
export class Ramp {
  /** Settings as they are in this frame. */
  readonly now: RigSettings;
  /** `now.amplifierGainDb` as a factor. */
  amplifierGain: number;
  readonly #from: RigSettings;
  #to: RigSettings;
  readonly #frames: number;
  #frame: number;

  constructor(settings: RigSettings, sampleRateHz: number) {
    this.now = { ...settings };
    this.#from = { ...settings };
    this.#to = settings;
    this.#frames = Math.max(1, Math.round(RAMP_SECONDS * sampleRateHz));
    this.#frame = this.#frames;
    this.amplifierGain = 10 ** (settings.amplifierGainDb / 20);
  }

  toward(settings: RigSettings): void {
    Object.assign(this.#from, this.now);
    this.#to = settings;
    this.#frame = 0;
  }

  /** To the next frame. */
  advance(): void {
    if (this.#frame >= this.#frames) return;
    this.#frame += 1;
    const share = 0.5 - 0.5 * Math.cos((Math.PI * this.#frame) / this.#frames);
    for (const figure of FIGURES) {
      this.now[figure] =
        this.#frame === this.#frames
          ? this.#to[figure]
          : this.#from[figure] + share * (this.#to[figure] - this.#from[figure]);
    }
    this.amplifierGain = 10 ** (this.now.amplifierGainDb / 20);
  }
}
