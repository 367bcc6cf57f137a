import type { ChannelSettings, RigSettings, SharedSettings } from './settings.ts';

/** A hand on a control is slower than this; a step within it would be heard as a click. */
export const RAMP_SECONDS = 0.02;

const copyOf = (settings: RigSettings): RigSettings => ({
  shared: { ...settings.shared },
  channels: settings.channels.map((channel) => ({ ...channel })),
});

/** Leads every setting from where it is to where it should be along half a cosine; a new aim starts anew from here. */
export class Ramp {
  /** Settings as they are in this frame. */
  readonly now: RigSettings;
  readonly #from: RigSettings;
  readonly #sharedFigures: readonly (keyof SharedSettings)[];
  readonly #channelFigures: readonly (keyof ChannelSettings)[];
  #to: RigSettings;
  readonly #frames: number;
  #frame: number;

  constructor(settings: RigSettings, sampleRateHz: number) {
    this.now = copyOf(settings);
    this.#from = copyOf(settings);
    this.#to = settings;
    this.#sharedFigures = Object.keys(settings.shared) as (keyof SharedSettings)[];
    this.#channelFigures = Object.keys(settings.channels[0]!) as (keyof ChannelSettings)[];
    this.#frames = Math.max(1, Math.round(RAMP_SECONDS * sampleRateHz));
    this.#frame = this.#frames;
  }

  /** Where the settings are led; what they are once the ramp has ended. */
  get to(): RigSettings {
    return this.#to;
  }

  toward(settings: RigSettings): void {
    Object.assign(this.#from.shared, this.now.shared);
    for (const [index, channel] of this.now.channels.entries()) {
      Object.assign(this.#from.channels[index]!, channel);
    }
    this.#to = settings;
    this.#frame = 0;
  }

  /** To the next frame. @returns whether anything may have moved */
  advance(): boolean {
    if (this.#frame >= this.#frames) return false;
    this.#frame += 1;
    const share =
      this.#frame === this.#frames ? 1 : 0.5 - 0.5 * Math.cos((Math.PI * this.#frame) / this.#frames);
    for (let at = 0; at < this.#sharedFigures.length; at += 1) {
      const figure = this.#sharedFigures[at]!;
      this.now.shared[figure] = between(this.#from.shared[figure], this.#to.shared[figure], share);
    }
    for (let index = 0; index < this.now.channels.length; index += 1) {
      const now = this.now.channels[index]!;
      const from = this.#from.channels[index]!;
      const to = this.#to.channels[index]!;
      for (let at = 0; at < this.#channelFigures.length; at += 1) {
        const figure = this.#channelFigures[at]!;
        now[figure] = between(from[figure], to[figure], share);
      }
    }
    return true;
  }
}

/** Exact at both ends. */
function between(from: number, to: number, share: number): number {
  return share === 1 ? to : from + share * (to - from);
}
