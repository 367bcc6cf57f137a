import type { StepsSpec } from '../tones/spec.ts';

/**
 * A recording of the stepped tone, with what was asked of its player. Best begun a second before the tone
 * and left running two seconds after it: the pauses are judged too.
 */
export interface InputTrial {
  /** As many as the input gave, of one length, full scale 1.0. */
  channels: readonly (Float32Array | Float64Array)[];
  sampleRateHz: number;
  steps: StepsSpec;
}

/** What an input may do to a signal instead of passing it on. Kebab-case words, stable. */
export type InputFault =
  | 'automatic-gain'
  | 'compression'
  | 'noise-gate'
  | 'noise-suppression'
  | 'echo-cancelling'
  | 'band-limit'
  | 'resampled'
  | 'clock-error'
  | 'one-channel-twice';

export interface InputFinding {
  fault: InputFault;
  /** One sentence for the person at the screen, with the figures that speak. */
  evidence: string;
}

/** One step of the tone as it came back. Levels of the fundamental, sine convention. */
export interface StepReading {
  askedDbfs: number;
  /** Mean over the last third of the step. */
  levelDbfs: number;
  /** Standard uncertainty of that by the noise. */
  uncertaintyDb: number;
  /** From the first tenth of a second to the last third; an honest input holds still. */
  creepDb: number;
  /** How far the level goes back and forth beyond one way of moving and beyond noise. */
  wobbleDb: number;
  /** Harmonics 2 to 5 against the fundamental; `null` where none stands over the noise. */
  harmonicsDbc: number | null;
}

export interface InputFigures {
  /** Where the first step begins, from the start of the recording. */
  startSeconds: number;
  frequencyHz: number;
  /** Of the player's clock against the input's. */
  clockPpm: number;
  steps: StepReading[];
  /** Level differences less what was asked, step by step: one fewer than steps. */
  stepErrorsDb: number[];
  /** Noise under the softest step and in the pauses, lines taken out. `null` for digital silence. */
  noiseUnderToneDbfs: number | null;
  noiseInPauseDbfs: number | null;
  /** Where the noise is cut off; `null` where it reaches half the sample rate, or is too faint to tell. */
  cutOffHz: number | null;
}

/**
 * `raw`: everything that was tried came out as it should. `processed`: something was found. `not-proven`:
 * the tone was not found, so nothing is known.
 */
export interface InputJudgement {
  verdict: 'raw' | 'processed' | 'not-proven';
  findings: InputFinding[];
  /** `null` where the tone was not found. */
  figures: InputFigures | null;
}
