import { soundPaths } from './cabin-path.ts';
import { Decimator, MICROPHONE_STOPBAND_DB } from './decimator.ts';
import { FilterChain } from './filter-section.ts';
import { sincKernel } from './interpolator.ts';
import type { RigChannelConfig, RigConfig } from './rig.ts';
import type { RigPlace } from './rig-parts.ts';

/** Frames kept of each channel: 42 ms at 48 kHz, more than the longest way and any delay. */
const RING_FRAMES = 2048;
const RING_MASK = RING_FRAMES - 1;
/** Reach of the kernel that places the direct sound between two samples. */
const HALF_FRAMES = 16;
/** A bilinear low-pass cannot stand above this share of the rate. */
const HIGHEST_SHARE_OF_RATE = 0.4;

/** Sensitivity is stated at this voltage (1 W into 8 ohm). */
export const SENSITIVITY_VOLTS = 2.83;

/** Delays in frames, and what of each reaches the microphone. */
interface Taps {
  frames: Int32Array;
  gains: Float64Array;
}

/** From one channel's terminals to the microphone: driver, air, first reflections. */
export class CabinChannel {
  readonly #decimator: Decimator;
  readonly #driver: FilterChain;
  readonly #pressurePerVolt: number;
  readonly #frame = new Float64Array(1);
  readonly #ring = new Float64Array(RING_FRAMES);
  readonly #taps: readonly Taps[];
  #at = 0;

  /** @throws RangeError for a microphone too near to a driver, or a delay too long */
  constructor(config: RigConfig, channel: RigChannelConfig) {
    const { sampleRateHz, cabin } = config;
    const { resonanceHz, quality, upperHz, sensitivityDb, place } = channel.driver;
    this.#decimator = new Decimator(sampleRateHz, MICROPHONE_STOPBAND_DB);
    this.#driver = driverFilters(sampleRateHz, resonanceHz, quality, upperHz);
    this.#pressurePerVolt =
      10 ** ((sensitivityDb - cabin.fullScaleSplDb) / 20) / (SENSITIVITY_VOLTS * Math.SQRT2);
    this.#taps = cabin.positions.map((position) => this.#tapsTo(config, channel, place, position));
  }

  #tapsTo(config: RigConfig, channel: RigChannelConfig, place: RigPlace, position: RigPlace): Taps {
    const frames: number[] = [];
    const gains: number[] = [];
    const paths = soundPaths(config.cabin, place, position);
    for (const [index, { seconds, gain }] of paths.entries()) {
      const delay = (seconds + channel.delayMs / 1000) * config.sampleRateHz;
      if (delay < HALF_FRAMES || delay > RING_FRAMES - HALF_FRAMES) {
        throw new RangeError(
          `The sound of "${channel.id}" cannot take ${(1000 * delay) / config.sampleRateHz} ms to the microphone.`,
        );
      }
      if (index > 0) {
        frames.push(Math.round(delay));
        gains.push(gain);
        continue;
      }
      const whole = Math.floor(delay);
      for (const [tap, weight] of sincKernel(delay - whole, HALF_FRAMES).entries()) {
        frames.push(whole + tap - HALF_FRAMES + 1);
        gains.push(gain * weight);
      }
    }
    return { frames: Int32Array.from(frames), gains: Float64Array.from(gains) };
  }

  /** One frame of volts at the terminals, at the oversampled rate. */
  run(volts: Float64Array): void {
    this.#decimator.run(volts, this.#frame);
    this.#move();
  }

  /** A frame without a voltage: what is under way still arrives. */
  rest(): void {
    this.#frame[0] = 0;
    this.#move();
  }

  #move(): void {
    this.#driver.run(this.#frame);
    this.#at = (this.#at + 1) & RING_MASK;
    this.#ring[this.#at] = this.#pressurePerVolt * this.#frame[0]!;
  }

  /** Adds what arrives at a place now, against the microphone's full scale, to the first place of `into`. */
  addHeard(position: number, share: number, into: Float64Array): void {
    const { frames, gains } = this.#taps[position]!;
    let sum = 0;
    const ring = this.#ring;
    const at = this.#at;
    for (let tap = 0; tap < frames.length; tap += 1) {
      sum += gains[tap]! * ring[(at - frames[tap]!) & RING_MASK]!;
    }
    into[0] = into[0]! + share * sum;
  }
}

export function upperCornerHz(upperHz: number, sampleRateHz: number): number {
  return Math.min(upperHz, HIGHEST_SHARE_OF_RATE * sampleRateHz);
}

function driverFilters(rateHz: number, resonanceHz: number, quality: number, upperHz: number): FilterChain {
  const filters = new FilterChain(rateHz);
  filters.addSecondOrder('high-pass', resonanceHz, quality);
  filters.addSecondOrder('low-pass', upperCornerHz(upperHz, rateHz), Math.SQRT1_2);
  return filters;
}
