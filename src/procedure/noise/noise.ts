/** The Quiet station's noise part: what it is given, what may happen, what it knows, what it records. */
import type { Comb } from '../../dsp/noise/mains-comb.ts';
import type { Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { NoiseTakeReading, NoiseTakeRequest } from '../take/noise-take.ts';

export const ENGINE_STATES = ['off', 'idle', 'revved'] as const;
export type EngineState = (typeof ENGINE_STATES)[number];

/** Whether the signal lead is in the amplifier's input. */
type Lead = 'plugged' | 'unplugged';

export interface NoiseTask {
  /** Channel whose terminals are read; `null` with a microphone, which hears them all. */
  channelId: string | null;
  place: 'terminals' | 'microphone';
  /** Full target of the channel; `null` where there is none, or for a microphone. */
  targetVolts: number | null;
  /** Least distance of the noise below the target, dB. */
  noiseDb: number;
  /** Volts RMS at the measured point of a full-scale sine; `null` without a calibration. */
  voltsPerFs: number | null;
  /** Standard uncertainty of that, dB. */
  voltsUncertaintyDb: number | null;
}

/** What a recording was taken for. */
export interface NoisePurpose {
  engine: EngineState;
  lead: Lead;
}

export type NoiseEvent =
  | TakeEvent<NoisePurpose, NoiseTakeRequest>
  /** Read from the rev counter; `null` takes it back. */
  | { type: 'rpm'; engine: EngineState; rpm: number | null };

/** A recording that says nothing about noise, and why. */
interface RefusedTake {
  purpose: NoisePurpose;
  why: string;
}

/** Where noise gets in, as far as pulling the signal lead tells. */
export type WayIn = 'amplifier-supply' | 'signal-lead' | 'both' | 'not-told';

/** What comes with the running engine. */
export interface Ripple {
  idle: Comb | null;
  revved: Comb | null;
  /** Revved fundamental over idle fundamental; `null` unless both were heard. */
  pitchRatio: number | null;
  /** The same by the rev counter. */
  rpmRatio: number | null;
  /**
   * `follows`: its pitch moves with the engine's speed. `moves`: it moves, the rev counter says otherwise.
   * `one-speed`: heard at one of the two speeds only. `unknown`: the other speed was not recorded yet.
   */
  course: 'follows' | 'moves' | 'one-speed' | 'unknown';
  wayIn: WayIn;
  /** What pulling the lead took away, dB; `null` where not tried, infinite losses are the floor's. */
  lossUnpluggedDb: number | null;
}

export interface Hum {
  nominalHz: 50 | 60;
  fundamentalHz: number;
  uncertaintyHz: number;
  levelDbfs: number;
  overFloorDb: number;
  /** Multiple that stands highest, 1 for the fundamental. */
  strongestOrder: number;
  heardIn: EngineState[];
  wayIn: WayIn;
  lossUnpluggedDb: number | null;
}

/** Neither of the two: a comb that does not move. */
export interface SteadyTone {
  comb: Comb;
  /** `always`: with the engine off as well. `running`: only while it runs, at any speed. */
  heard: 'always' | 'running';
}

/** Level of one recording in the three ways it may be told. */
export interface NoiseLevel {
  engine: EngineState;
  levelDbfs: number | null;
  levelDbv: number | null;
  aWeightedDbfs: number | null;
  /** Target over the unweighted level; `null` without volts or target. */
  belowTargetDb: number | null;
}

export interface NoiseState extends StationState {
  task: NoiseTask;
  rpm: Record<EngineState, number | null>;
  /** The latest usable recording of each engine state, the lead plugged in. */
  takes: Record<EngineState, NoiseTakeReading | null>;
  unplugged: { engine: EngineState; reading: NoiseTakeReading } | null;
  /** The last recording, where it was of no use. */
  refused: RefusedTake | null;
  /** What to record next; `null` when nothing more is asked for. */
  wanted: NoisePurpose | null;
  levels: NoiseLevel[];
  /** The loudest of them. */
  worst: NoiseLevel | null;
  ripple: Ripple | null;
  hum: Hum | null;
  steadyTones: SteadyTone[];
}

export interface NoiseResult {
  channelId: string | null;
  place: NoiseTask['place'];
  targetVolts: number | null;
  states: NoiseStateResult[];
  /** Running against off, octave by octave. */
  rises: { engine: EngineState; octaves: { nominalHz: number; riseDb: number; uncertaintyDb: number }[] }[];
  worstEngine: EngineState;
  belowTargetDb: number | null;
  /** Standard uncertainty (k = 1). */
  belowTargetUncertaintyDb: number | null;
  toleranceDb: number;
  /** `null` where there is no target to judge by. */
  inside: boolean | null;
  ripple: NoiseRippleResult | null;
  hum: Hum | null;
  steadyTones: {
    fundamentalHz: number;
    levelDbfs: number;
    overFloorDb: number;
    heard: 'always' | 'running';
  }[];
  findings: Finding[];
}

export interface NoiseStateResult {
  engine: EngineState;
  rpm: number | null;
  seconds: number;
  levelDbfs: number | null;
  levelDbv: number | null;
  floorDbfs: number | null;
  aWeightedDbfs: number | null;
  aWeightedDbv: number | null;
  octaves: {
    nominalHz: number;
    levelDbfs: number | null;
    floorDbfs: number | null;
    uncertaintyDb: number;
  }[];
  clicks: number;
  dropouts: number;
  grade: Grade;
  doubts: Doubt[];
}

export interface NoiseRippleResult {
  idleHz: number | null;
  revvedHz: number | null;
  levelDbfs: number;
  overFloorDb: number;
  pitchRatio: number | null;
  rpmRatio: number | null;
  course: Ripple['course'];
  wayIn: WayIn;
  lossUnpluggedDb: number | null;
}
