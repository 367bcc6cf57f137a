/**
 * Whether an input may be believed: a stepped tone and its pauses are played
 * into it, and only what comes back counts, whatever the browser says of it.
 */
import type { InputFigures } from '../../dsp/honesty/judgement.ts';
import type { Doubt } from '../../dsp/reading.ts';
import type { StepsSpec } from '../../dsp/tones/spec.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { StepsTakeRequest } from '../take/steps-take.ts';

export interface InputTask {
  /** `wire`: the tone comes through a lead. `air`: from a loudspeaker to a microphone. */
  way: 'wire' | 'air';
  steps: StepsSpec;
}

export type InputEvent = TakeEvent<null, StepsTakeRequest>;

/** `honest`: everything tried came out as it should. `not-proven`: the tone was not found, so nothing is known. */
type InputVerdict = 'honest' | 'not-honest' | 'not-proven';

export interface InputState extends StationState {
  task: InputTask;
  /** `null` until the tone was recorded. */
  verdict: InputVerdict | null;
  figures: InputFigures | null;
  doubts: Doubt[];
}

export interface InputResult {
  way: InputTask['way'];
  verdict: 'honest' | 'not-honest';
  toneHz: number;
  /** The tone as it came back; its difference from what was played is the two clocks'. */
  clockPpm: number;
  steps: { askedDbfs: number; levelDbfs: number; uncertaintyDb: number; creepDb: number }[];
  /** Level differences less what was asked: one fewer than steps. */
  stepErrorsDb: number[];
  noiseUnderToneDbfs: number | null;
  noiseInPauseDbfs: number | null;
  /** `null` where the noise reaches the top of the band, or is too faint to tell. */
  cutOffHz: number | null;
  doubts: Doubt[];
  findings: Finding[];
}
