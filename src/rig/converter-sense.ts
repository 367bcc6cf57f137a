import type { RigSleep } from './rig-parts.ts';

/** A tone crosses zero: so long after its last crest it still counts as there. Half a period of 10 Hz. */
const HOLD_SECONDS = 0.05;
/** From mute to open, so that it does not click. */
const OPENING_SECONDS = 0.005;

/** The signal sensing of a converter: awake at first, asleep after silence, late to wake. */
export class ConverterSense {
  /** 1 awake, 0 muted. */
  share = 1;
  readonly #sleep: RigSleep;
  readonly #rateHz: number;
  #isAwake = true;
  #quietFrames = 0;
  #heardFrames = 0;

  constructor(sleep: RigSleep, sampleRateHz: number) {
    this.#sleep = sleep;
    this.#rateHz = sampleRateHz;
  }

  /** One frame on. @param peakVolts highest voltage at either input within it */
  advance(peakVolts: number): void {
    const { thresholdPeakVolts, afterSeconds, wakeSeconds } = this.#sleep;
    this.#quietFrames = peakVolts > thresholdPeakVolts ? 0 : this.#quietFrames + 1;
    const isHeard = this.#quietFrames < HOLD_SECONDS * this.#rateHz;
    this.#heardFrames = isHeard ? this.#heardFrames + 1 : 0;
    if (this.#quietFrames > afterSeconds * this.#rateHz) this.#isAwake = false;
    else if (this.#heardFrames > wakeSeconds * this.#rateHz) this.#isAwake = true;
    const step = 1 / (OPENING_SECONDS * this.#rateHz);
    this.share = this.#isAwake ? Math.min(1, this.share + step) : Math.max(0, this.share - step);
  }
}
