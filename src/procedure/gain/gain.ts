/**
 * The Gain station as a pure fold: `gainStart`, then `gainStep(state, event)`
 * for every reading, typed voltage and press of a button. No clock, no device,
 * no screen: a recording replays into the same states.
 */
import type { Clipping, ClippingShape, Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding } from '../procedure.ts';
import type { BurstConclusion, BurstDriver, BurstReading, BurstRun } from './burst/burst.ts';
import type { ClippingStageName, StageCheck } from './stage/stage-check.ts';

export interface GainTask {
  channelId: string;
  /** What the setting tone must read, volts RMS. */
  aimVolts: number;
  /** Full clean target of the channel, volts RMS (differs from `aimVolts` at a reduced tone level). */
  targetVolts: number;
  toneHz: number;
  toneDbfs: number;
  /** `reduced`: the tone lies 20 dB under minus the overlap, and the aim with it. */
  level: 'planned' | 'reduced';
  /** Level of the setting tone by the plan, dBFS; `toneDbfs` unless the level is reduced. */
  plannedDbfs: number;
  /** A tone at minus this level reaches the target, dB. */
  overlapDb: number;
  /** Inputs summed ahead of this channel, and how many of them carry the tone. */
  summedInputs: number;
  inputsWithTone: number;
  /** Half width of the brackets, dB. */
  toleranceDb: number;
  /** `wire`: volts come from the calibrated input. `meter`: volts are typed, the input only watches for the knee. */
  way: 'wire' | 'meter';
}

/** One reading as this station needs it; made from a LiveReading by `gainReading`. */
export interface GainReading {
  seconds: number;
  grade: Grade;
  doubts: Doubt[];
  motion: 'steady' | 'changing';
  /** Fundamental at the measured point; `null` without calibration or tone. */
  volts: number | null;
  /** Standard uncertainty (k = 1), calibration included. */
  voltsUncertainty: number | null;
  levelDbfs: number | null;
  frequencyHz: number | null;
  thdPercent: number | null;
  /** Harmonics of order 4 and up against the fundamental; `null` or left out where the band holds too few. */
  highOrderPercent: number | null;
  clipping: Clipping;
}

export type GainEvent =
  | { type: 'reading'; reading: GainReading }
  | { type: 'meter'; volts: number; seconds: number }
  | { type: 'new-turn'; seconds: number }
  | { type: 'way'; way: 'wire' | 'meter' }
  | { type: 'tone-level'; level: GainTask['level'] }
  | { type: 'bursts'; driver: BurstDriver; seconds: number }
  | { type: 'bursts-stop'; seconds: number }
  | { type: 'stage-check' }
  | { type: 'stage-radio' }
  | { type: 'stage-done' };

/** One dot of the knee trace. Without calibration `levelDbfs` still orders the dots. */
export interface TracePoint {
  turn: number;
  volts: number | null;
  levelDbfs: number;
  thdPercent: number;
  verdict: Clipping['verdict'];
  /** What limits, where the wave showed it; not kept in a record. */
  shape?: ClippingShape | null;
  /** Content of order 4 and up, by which a microphone sees the knee; not kept in a record. */
  highOrderPercent?: number;
}

export interface Knee {
  volts: number | null;
  levelDbfs: number;
  /** Standard uncertainty, dB. */
  uncertaintyDb: number;
  /** How it was found. */
  from: 'overdrive' | 'trace';
  /** What the other way of finding it says, relative to this one, dB; `null` where only one way spoke. */
  crossCheckDb: number | null;
  /** True where both ways spoke and lie further apart than their uncertainties allow. */
  disputed: boolean;
}

/** Whose ceiling a clipped reading shows: distortion that stays when this gain is lowered is an earlier stage's. */
export type ClippingStage = 'this' | 'earlier';

/** What a clipped reading told of the ceiling, kept until the next turn. */
export interface OverdrivenReading {
  levelDbfs: number;
  overdriveDb: number;
  kneeDbfs: number;
}

export type AimZone = 'no-reading' | 'under' | 'inside' | 'over' | 'past-knee' | 'input-overload';

export interface Aim {
  zone: AimZone;
  /** Reading against aim, dB; `null` without a usable voltage. */
  errorDb: number | null;
  /** Standard uncertainty of `errorDb`. */
  uncertaintyDb: number | null;
  toleranceDb: number;
  /** What is aimed at, volts RMS: the task's aim, or lower where the knee lies below the target. */
  aimVolts: number;
  /** True where the channel cannot reach its target clean, so that the aim stands under its knee. */
  limitedByKnee: boolean;
  /** Where the knee stands on the same ruler; `null` while it is unknown. */
  kneeDb: number | null;
  /** How far to turn back, dB; `null` unless past the knee. */
  turnBackDb: number | null;
}

export interface Acceptance {
  can: boolean;
  /** Why not, or what a second thought should be given to. */
  why: string | null;
  /** True where accepting is possible but not advised (off target, suspect reading). */
  needsSecondThought: boolean;
}

export interface GainState {
  task: GainTask;
  turn: number;
  seconds: number;
  latest: GainReading | null;
  /** Last typed voltage, in the `meter` way. */
  meterVolts: number | null;
  /** Level at the input when that voltage was typed; `null` where nothing was heard. */
  meterLevelDbfs: number | null;
  trace: TracePoint[];
  /** Clipped readings of this turn, newest last. */
  overdriven: OverdrivenReading[];
  /** Of this turn, or else of an earlier one that nothing has disproved since. */
  knee: Knee | null;
  /** What the turns before this one found; gives way to this turn's own. */
  earlierKnee: Knee | null;
  /** `null` until the clipped readings say which. */
  clippingStage: ClippingStage | null;
  /** Bursts at full level, of this turn; `null` before the first. */
  bursts: BurstRun | null;
  /** What they showed; `null` without any, and once the control was turned up since. */
  burstConclusion: BurstConclusion | null;
  /** Seconds of the stream before which no burst may sound: the pause outlasts a turn. */
  restUntilSeconds: number;
  /** The two readings that name the clipping stage, while they are taken and until they are put away. */
  stageCheck: StageCheck | null;
  aim: Aim;
  /** What to do with the hands, one sentence. */
  instruction: string;
  findings: Finding[];
  /** What the reading may mean, no verdict; `null` where there is nothing to say. */
  hint: string | null;
  acceptance: Acceptance;
}

/** What accepting freezes; the job adds identity, time and conditions. */
export interface GainResult {
  channelId: string;
  way: 'wire' | 'meter';
  volts: number;
  voltsUncertainty: number | null;
  /** What was aimed at in the end; lower than the plan's where the knee stood in the way. */
  aimVolts: number;
  limitedByKnee: boolean;
  targetVolts: number;
  errorDb: number;
  toleranceDb: number;
  inside: boolean;
  toneHz: number;
  toneDbfs: number;
  /** A tone at minus this level reaches the target, dB. */
  overlapDb: number;
  /** What bursts at full level confirmed where the gain was set at a reduced one; `null` without them. */
  bursts: { readings: BurstReading[]; conclusion: BurstConclusion } | null;
  /** Which stage two readings named in this turn; `null` where they were not taken. */
  clippingStage: { stage: ClippingStageName; confidence: number; evidence: string } | null;
  thdPercent: number | null;
  clippingVerdict: Clipping['verdict'] | null;
  grade: Grade | null;
  doubts: Doubt[];
  knee: Knee | null;
  /** Knee against full target, dB: how much clean room is left; `null` where no knee was seen. */
  marginDb: number | null;
  trace: TracePoint[];
}
