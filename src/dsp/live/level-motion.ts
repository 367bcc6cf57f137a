/**
 * Tells a steady level from one that is being changed: within a window, from
 * the power of four stretches of it; across windows, from the last readings.
 */
import type { ChannelReading } from '../reading.ts';

const STRETCHES = 4;
/** Spread of a steady level, dB: half of the 0.2 dB that proves an input raw (platform notes, 1.1 and 1.3). */
const STEADY_DB = 0.1;
/** Music, pink noise and room noise wander by nature; only a plain change of volume counts. */
const STEADY_NOISE_DB = 2;
/** A spread within one window that no fit of one steady tone survives, dB. */
const LEAP_DB = 3;
const HISTORY_SECONDS = 0.3;
/** Noise moves a measured power by itself; this many standard deviations are let pass. */
const COVERAGE = 4;
const HISTORY_LENGTH = 32;

export class LevelMotion {
  readonly #sampleRateHz: number;
  readonly #frames = new Float64Array(HISTORY_LENGTH);
  readonly #levels = new Float64Array(HISTORY_LENGTH);
  #count = 0;
  #weights = new Float64Array(0);
  #leaps = false;

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz;
  }

  /**
   * @param samples the window just measured; @param reading what was measured in it.
   * @returns true while the level moves. Digital silence is steady.
   */
  isChanging(samples: Float32Array, reading: ChannelReading, endFrame: number): boolean {
    const level = reading.tone?.levelDbfs ?? reading.levelDbfs;
    if (level === null) {
      this.reset();
      return false;
    }
    const allowed = allowedSpreadDb(reading, samples.length / STRETCHES);
    const inWindow = this.#spreadInWindow(samples, reading.dcFullScale);
    const acrossWindows = this.#spreadOfHistory(level, endFrame);
    this.#leaps = inWindow > LEAP_DB;
    return inWindow > allowed || acrossWindows > allowed;
  }

  /** True where the level leapt inside the window that was judged last. */
  get leaps(): boolean {
    return this.#leaps;
  }

  reset(): void {
    this.#count = 0;
    this.#leaps = false;
  }

  /** Hann-weighted, so that a few periods of a low tone do not read as ripple (0.005 dB at 7 half-periods). */
  #spreadInWindow(samples: Float32Array, dc: number): number {
    const length = Math.floor(samples.length / STRETCHES);
    if (this.#weights.length !== length) this.#weights = hannWeights(length);
    let highest = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    for (let stretch = 0; stretch < STRETCHES; stretch++) {
      const power = weightedPower(samples, stretch * length, this.#weights, dc);
      highest = Math.max(highest, power);
      lowest = Math.min(lowest, power);
    }
    // A stretch without any signal, beside one with, is a change without measure.
    return lowest === 0 ? (highest === 0 ? 0 : Number.POSITIVE_INFINITY) : 10 * Math.log10(highest / lowest);
  }

  #spreadOfHistory(level: number, endFrame: number): number {
    const slot = this.#count % HISTORY_LENGTH;
    this.#frames[slot] = endFrame;
    this.#levels[slot] = level;
    this.#count++;
    const oldest = endFrame - HISTORY_SECONDS * this.#sampleRateHz;
    let highest = level;
    let lowest = level;
    for (let i = 0; i < Math.min(this.#count, HISTORY_LENGTH); i++) {
      if ((this.#frames[i] as number) < oldest) continue;
      highest = Math.max(highest, this.#levels[i] as number);
      lowest = Math.min(lowest, this.#levels[i] as number);
    }
    return highest - lowest;
  }
}

/** What noise alone makes of two powers over `frames`: standard deviation 2·sqrt(noise/signal/frames) each. */
function allowedSpreadDb(reading: ChannelReading, frames: number): number {
  if (reading.tone === null) return STEADY_NOISE_DB;
  const noiseToSignal = 10 ** ((reading.tone.noiseDbfs - reading.tone.levelDbfs) / 10);
  return STEADY_DB + COVERAGE * (20 / Math.LN10) * Math.sqrt((2 * noiseToSignal) / frames);
}

function hannWeights(length: number): Float64Array<ArrayBuffer> {
  const weights = new Float64Array(length);
  for (let i = 0; i < length; i++) weights[i] = 1 - Math.cos((2 * Math.PI * (i + 0.5)) / length);
  return weights;
}

/** The weights' mean is 1. */
function weightedPower(samples: Float32Array, start: number, weights: Float64Array, dc: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    const value = (samples[start + i] as number) - dc;
    sum += (weights[i] as number) * value * value;
  }
  return sum / weights.length;
}
