/**
 * Follows the phase of a steady tone from window to window. Lost or doubled
 * frames shift it; so do the rate corrections some browsers make. A change of
 * level does not: it multiplies the wave by a real number.
 */
import { wrappedPhase } from '../fit/wrapped-phase.ts';
import type { ToneReading } from '../reading.ts';

/** Phase step between neighbouring windows that counts as a break, rad (platform notes, 2.3). */
const BREAK_RADIANS = 0.1;
/** Rate change that counts as a break, parts of the frequency (platform notes, 2.3). */
const WANDER = 20e-6;
/**
 * Turn of phase across one window below which a change of frequency proves
 * nothing, rad: what crackle of a worn control and hum leave in a fit.
 */
const SLOPE_RADIANS = 0.03;
/** A thermal drift of the player's clock must not add up against an old reading. */
const ANCHOR_SECONDS = 1;
/** Standard uncertainties are taken this many times, so that noise alone breaks nothing. */
const COVERAGE = 5;
/** Hum that comes and goes at the edge of noise is no tone to follow. */
const PLAIN_TONE_DB = 12;
/**
 * While the level leaps no fit can be believed, but a tone that only grew or
 * fell comes back in phase: what was known before is kept this long.
 */
const BRIDGE_SECONDS = 1;

export class PhaseTrack {
  readonly #sampleRateHz: number;
  #spoiltUntil = Number.NEGATIVE_INFINITY;
  #hasPrevious = false;
  #previousCentre = 0;
  #previousPhase = 0;
  #previousHz = 0;
  #stoodOut = false;
  #anchorCentre = 0;
  #anchorHz = 0;
  #anchorSigmaHz = 0;
  #stableSince = Number.NaN;
  #leapt = false;

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz;
  }

  /**
   * @param leaps true where the level leaps inside this window, see `LevelMotion`
   * @returns true if the tone's phase breaks inside this window, or a break
   * found earlier still lies in it. A plain tone that is suddenly none counts as
   * a break; where there was none before, or where the level leaps, there is
   * nothing to judge.
   */
  breaksIn(tone: ToneReading | null, endFrame: number, windowFrames: number, leaps: boolean): boolean {
    if (leaps) {
      const age = (endFrame - windowFrames / 2 - this.#previousCentre) / this.#sampleRateHz;
      if (this.#hasPrevious && age > BRIDGE_SECONDS) this.#forget();
      this.#leapt = true;
      return endFrame - windowFrames < this.#spoiltUntil;
    }
    const leapt = this.#leapt;
    this.#leapt = false;
    if (tone === null) {
      // A tone that broke off, or broke so hard that no single tone fits the window any more; one that was turned off did neither.
      if (this.#hasPrevious && this.#stoodOut && !leapt) this.#spoiltUntil = endFrame;
      this.#forget();
      return endFrame - windowFrames < this.#spoiltUntil;
    }
    if (endFrame - windowFrames < this.#spoiltUntil) return true;
    const centre = endFrame - windowFrames / 2;
    const phase = tone.phaseRadians + this.#turn(tone.frequencyHz, windowFrames / 2);
    if (this.#hasPrevious && this.#isBreak(tone, centre, phase, windowFrames)) {
      // Somewhere in the newest stretch; where exactly is not known.
      this.#spoiltUntil = endFrame;
      this.#forget();
      return true;
    }
    this.#remember(tone, centre, phase);
    return false;
  }

  /** Seconds since when the phase has run true, up to `endFrame`; 0 without a tone. */
  stableSeconds(endFrame: number): number {
    return Number.isNaN(this.#stableSince) ? 0 : (endFrame - this.#stableSince) / this.#sampleRateHz;
  }

  reset(): void {
    this.#forget();
    this.#spoiltUntil = Number.NEGATIVE_INFINITY;
  }

  #isBreak(tone: ToneReading, centre: number, phase: number, windowFrames: number): boolean {
    const windowSeconds = windowFrames / this.#sampleRateHz;
    const hz = tone.frequencyHz;
    const sigma = Math.hypot(tone.uncertainty.frequencyHz, this.#anchorSigmaHz);
    const slopeHz = SLOPE_RADIANS / (2 * Math.PI * windowSeconds);
    const allowedHz = Math.max(WANDER * hz, slopeHz) + COVERAGE * sigma;
    if (Math.abs(hz - this.#anchorHz) > allowedHz) return true;
    const frames = centre - this.#previousCentre;
    const predicted = this.#previousPhase + this.#turn((hz + this.#previousHz) / 2, frames);
    const step = Math.abs(wrappedPhase(phase - predicted));
    const seconds = frames / this.#sampleRateHz;
    const allowed = BREAK_RADIANS + 2 * Math.PI * seconds * (WANDER * hz + COVERAGE * sigma);
    return step > allowed;
  }

  #remember(tone: ToneReading, centre: number, phase: number): void {
    const anchorAge = (centre - this.#anchorCentre) / this.#sampleRateHz;
    if (!this.#hasPrevious || anchorAge > ANCHOR_SECONDS) {
      this.#anchorCentre = centre;
      this.#anchorHz = tone.frequencyHz;
      this.#anchorSigmaHz = tone.uncertainty.frequencyHz;
    }
    if (!this.#hasPrevious) this.#stableSince = centre;
    this.#hasPrevious = true;
    this.#stoodOut = tone.levelDbfs - tone.noiseDbfs > PLAIN_TONE_DB;
    this.#previousCentre = centre;
    this.#previousPhase = phase;
    this.#previousHz = tone.frequencyHz;
  }

  #forget(): void {
    this.#hasPrevious = false;
    this.#stableSince = Number.NaN;
  }

  #turn(hz: number, frames: number): number {
    return (2 * Math.PI * hz * frames) / this.#sampleRateHz;
  }
}
