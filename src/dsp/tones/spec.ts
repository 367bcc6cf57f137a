/**
 * What a test signal is, as plain data: the same record stands in the tone
 * set's manifest, in the player and in the renderer.
 *
 * Levels are RMS against a full-scale sine (AES17 3.12.1), also for noise and
 * sweeps. Every signal starts and ends at zero, faded over `fadeSeconds`.
 */

export interface SineSpec {
  kind: 'sine';
  frequencyHz: number;
  levelDbfs: number;
  durationSeconds: number;
}

export interface SilenceSpec {
  kind: 'silence';
  durationSeconds: number;
}

/** The same sine at several levels, one after the other, a short pause between: shows up automatic gain. */
export interface StepsSpec {
  kind: 'steps';
  frequencyHz: number;
  levelsDbfs: number[];
  stepSeconds: number;
  pauseSeconds: number;
}

/** Pink noise (-3.01 dB per octave) between two frequencies; `seed` makes it repeatable. */
export interface PinkSpec {
  kind: 'pink';
  lowHz: number;
  highHz: number;
  levelDbfs: number;
  durationSeconds: number;
  seed: number;
}

/** Exponential sweep (Farina 2000). */
export interface SweepSpec {
  kind: 'sweep';
  startHz: number;
  endHz: number;
  levelDbfs: number;
  durationSeconds: number;
}

/** A train of one-sided pulses, band-limited, whose first swing is positive. */
export interface PolaritySpec {
  kind: 'polarity';
  /** Centre of the pulse's band. */
  frequencyHz: number;
  /**
   * Centres of further pulses, which share each interval with the first, evenly spaced: one unbroken train
   * for drivers that no single pulse reaches. Left out, the first stands alone.
   */
  furtherHz?: number[];
  /** Peak of the pulse, dB against full scale 1.0. */
  peakDbfs: number;
  everySeconds: number;
  durationSeconds: number;
}

/** Short beeps counted by ear: `beeps` of them, then a rest, repeated. */
export interface IdentificationSpec {
  kind: 'identification';
  frequencyHz: number;
  levelDbfs: number;
  beeps: number;
  durationSeconds: number;
}

export type ToneSpec =
  | SineSpec
  | SilenceSpec
  | StepsSpec
  | PinkSpec
  | SweepSpec
  | PolaritySpec
  | IdentificationSpec;
