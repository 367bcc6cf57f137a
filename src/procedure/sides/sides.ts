/**
 * Whether left is left and right is right: a tone on one side of the source at
 * a time, listened to on both sides of what is measured. With an input of two
 * channels both sides are heard at once; with one the lead is moved.
 */
import type { Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { SourceTone } from '../source/source.ts';
import type { EachChannelTakeRequest } from '../take/each-channel-take.ts';
import type { ToneTakeRequest } from '../take/tone-take.ts';

export type Side = 'left' | 'right';

export interface SidesTask {
  point: 'radio' | 'converter';
  /** `two-channel`: the input's first channel is on the left, its second on the right. */
  input: 'one-channel' | 'two-channel';
  tone: SourceTone;
}

export interface SidesPurpose {
  played: Side;
  /** Where the one lead is; `both` with an input of two channels. */
  heardAt: Side | 'both';
}

export type SidesEvent = TakeEvent<SidesPurpose, ToneTakeRequest | EachChannelTakeRequest>;

/** One side as one take heard it. */
export interface SideHeard {
  /** `null` where no tone stands out. */
  levelDbfs: number | null;
  /** Everything heard together: no tone that was missed can be louder. */
  wholeDbfs: number | null;
  doubts: Doubt[];
}

/** What was heard at a side while one was played; `null` where not measured. */
type SidesHeard = Record<Side, SideHeard | null>;

export type SidesVerdict = 'right' | 'swapped' | 'mono' | 'leaks' | 'dead';

export interface SidesState extends StationState {
  task: SidesTask;
  /** By the side that was played. */
  heard: Record<Side, SidesHeard>;
  next: SidesPurpose | null;
  obstacle: string | null;
  /** `null` until everything was heard. */
  verdict: SidesVerdict | null;
  /** How far a side that is played stands above the other one, the worse way, dB; `null` where nothing got across. */
  separationDb: number | null;
  /** As far as the noise lets it be told where nothing got across; `null` where something did. */
  separationAtLeastDb: number | null;
  /** Left against right, each at its own side, dB; `null` unless both are there. */
  balanceDb: number | null;
}

/** What accepting freezes. */
export interface SidesResult {
  point: 'radio' | 'converter';
  input: 'one-channel' | 'two-channel';
  tone: SourceTone;
  /** Level where (inner) while what was played (outer), dBFS; `null` where no tone stood out. */
  heardDbfs: Record<Side, Record<Side, number | null>>;
  verdict: SidesVerdict;
  separationDb: number | null;
  separationAtLeastDb: number | null;
  balanceDb: number | null;
  grade: Grade;
  doubts: Doubt[];
  findings: Finding[];
}
