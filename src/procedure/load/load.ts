/**
 * Whether the radio misses its speakers: the same tones at the same volume
 * step, with the load resistors connected and without them.
 */
import type { Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { HeardTone } from '../source/heard-tone.ts';
import type { SourceTone, SourceToneName } from '../source/source.ts';
import type { ToneTakeRequest } from '../take/tone-take.ts';

export interface LoadTask {
  side: 'left' | 'right';
  /** Volume step that both are measured at. */
  step: number;
  tones: Record<SourceToneName, SourceTone>;
  /** Volts RMS at the measured point of a full-scale sine; `null` while nobody knows. */
  voltsPerFs: number | null;
}

export type Resistors = 'connected' | 'off';

interface LoadPurpose {
  resistors: Resistors;
  tone: SourceToneName;
}

export type LoadEvent = TakeEvent<LoadPurpose, ToneTakeRequest>;

/** `silent` where everything else was right but the tone was not there; `null` where not measured. */
export type LoadHeard = Record<SourceToneName, HeardTone | 'silent' | null>;

/** Without the resistors against with them, dB. */
export interface LoadChange {
  /** The middle tone; `null` where nothing is left of it. */
  levelDb: number | null;
  /** Bass and treble beyond what the middle changed; `null` where either was not heard. */
  bassDb: number | null;
  trebleDb: number | null;
}

export interface LoadState extends StationState {
  task: LoadTask;
  heard: Record<Resistors, LoadHeard>;
  /** Tones still to be recorded, in order. */
  missing: Record<Resistors, SourceToneName[]>;
  obstacle: string | null;
  /** `null` until the middle tone was recorded both ways. */
  change: LoadChange | null;
}

interface LoadResultTone {
  levelDbfs: number | null;
  volts: number | null;
  thdPercent: number | null;
}

/** What accepting freezes. */
export interface LoadResult {
  side: 'left' | 'right';
  step: number;
  tones: Record<SourceToneName, SourceTone>;
  connected: Record<SourceToneName, LoadResultTone>;
  off: Record<SourceToneName, LoadResultTone>;
  change: LoadChange;
  /** Whether the radio changes what it plays when the load goes. */
  sensesLoad: boolean;
  grade: Grade;
  doubts: Doubt[];
  findings: Finding[];
}
