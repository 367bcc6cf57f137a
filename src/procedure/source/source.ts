/**
 * How far up the radio is clean, as a pure fold: at volume steps that the fold
 * chooses, a tone in the middle of the band, one in the bass and one in the
 * treble are recorded; each answer decides which step is asked for next.
 */
import type { ClippingVerdict, Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { ToneTakeRequest } from '../take/tone-take.ts';
import type { HeardTone } from './heard-tone.ts';

export type SourceToneName = 'middle' | 'bass' | 'treble';

export interface SourceTone {
  frequencyHz: number;
  levelDbfs: number;
}

export interface SourceTask {
  /** Where the input is connected: the radio's own output, or the converter's, so that its ceiling counts too. */
  point: 'radio' | 'converter';
  side: 'left' | 'right';
  /** Highest step of the radio's volume. */
  volumeSteps: number;
  tones: Record<SourceToneName, SourceTone>;
  /** Volts RMS at the measured point of a full-scale sine; `null` while nobody knows. */
  voltsPerFs: number | null;
  /** Relative standard uncertainty (k = 1) of that. */
  voltsUncertaintyDb: number | null;
}

/** Where on the volume control, and which tone. */
export interface SourcePurpose {
  step: number;
  tone: SourceToneName;
}

/**
 * `by-step`: all three tones at a step, then the next step (something changes
 * tones by itself). `by-tone`: one tone up the whole range, then the next
 * (a hand would have to change tracks).
 */
export interface SourceWay {
  /** Steps of one stride on the way up; near a finding every one is measured. */
  every: number;
  order: 'by-step' | 'by-tone';
  /** Tones that are not asked for: one that cannot be heard would be asked for again and again. */
  without: Exclude<SourceToneName, 'middle'>[];
}

export type SourceEvent = TakeEvent<SourcePurpose, ToneTakeRequest> | { type: 'way'; way: SourceWay };

/** What was heard at one volume step; a tone that was not measured there is `null`. */
export interface SourceStep extends Record<SourceToneName, HeardTone | null> {
  step: number;
}

/** Highest clean level of the source, as far as it is known. */
export interface SourceCeiling {
  /** Highest step known to be clean, below every clipped one; `null` while none is. */
  cleanStep: number | null;
  /** Lowest step known to be clipped, and the tone that clips there. */
  clippedStep: number | null;
  clippedTone: 'middle' | 'bass' | null;
  /** True once no step between the two is left to measure, or the top of the range is clean. */
  settled: boolean;
  /** Of the middle tone at `cleanStep`. */
  levelDbfs: number | null;
  volts: number | null;
  /** Standard uncertainty (k = 1). */
  voltsUncertainty: number | null;
  /** Largest clean sine that the clipped step tells of. */
  kneeVolts: number | null;
}

/** Bass against the middle, clean steps only. */
export interface BassCut {
  /** Lowest measured step from which on the bass lacks more than `BASS_CUT_DB`. */
  fromStep: number;
  /** Highest measured step below it. */
  wholeStep: number;
  /** What is missing at the highest clean step, dB, against the low steps. */
  atCeilingDb: number;
  deepestDb: number;
}

export interface SourceState extends StationState {
  task: SourceTask;
  way: SourceWay;
  /** Upwards. */
  steps: SourceStep[];
  /** What to record next; `null` once everything is known. */
  next: SourcePurpose | null;
  /** Why the last recording could not be used, one sentence. */
  obstacle: string | null;
  ceiling: SourceCeiling;
  bassCut: BassCut | null;
  /** Lowest step at which the level, though clean, no longer rises as it did; `null` where it does all the way. */
  limitsFromStep: number | null;
}

export interface SourceResultStep {
  step: number;
  levelDbfs: number;
  volts: number | null;
  thdPercent: number;
  verdict: ClippingVerdict;
  overdriveDb: number | null;
  /** Against the middle tone, what was played taken out; `null` where not measured or not clean. */
  bassDb: number | null;
  trebleDb: number | null;
  bassVerdict: ClippingVerdict | null;
}

/** What accepting freezes. */
export interface SourceResult {
  point: 'radio' | 'converter';
  side: 'left' | 'right';
  volumeSteps: number;
  tones: Record<SourceToneName, SourceTone>;
  steps: SourceResultStep[];
  highestCleanStep: number;
  cleanToTop: boolean;
  ceilingDbfs: number;
  ceilingVolts: number | null;
  ceilingVoltsUncertainty: number | null;
  kneeVolts: number | null;
  clippedTone: 'middle' | 'bass' | null;
  bassCutFromStep: number | null;
  bassCutAtCeilingDb: number | null;
  limitsFromStep: number | null;
  grade: Grade;
  doubts: Doubt[];
  findings: Finding[];
}
