/**
 * What the converter's turn-on sensing does in silence. A tone, a silence of
 * known length, the tone again: what the pause lasts longer than it was played
 * is what the converter lost of the start. Where it loses any, quieter and
 * quieter tones are put in place of the silence, to find what holds it awake.
 */
import type { Doubt, Grade } from '../../dsp/reading.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { StretchesTakeRequest } from '../take/stretches-take.ts';

export interface TurnOnTask {
  /** Volume step that it is tried at: the sensing sees volts, not dBFS. */
  step: number;
  toneHz: number;
  keepAliveHz: number;
  /** Of the tones before and after. */
  toneDbfs: number;
  /** Silences to be tried, shortest first. */
  silencesSeconds: number[];
  /** Levels to be tried in place of silence, lowest first. */
  keepAliveDbfs: number[];
  /** The one of them that is tried first. */
  firstKeepAliveDbfs: number;
}

export type TurnOnPurpose =
  | { try: 'silence'; seconds: number }
  | { try: 'keep-alive'; seconds: number; levelDbfs: number };

export type TurnOnEvent = TakeEvent<TurnOnPurpose, StretchesTakeRequest>;

/** One silence, and the start after it. */
export interface SilenceTried {
  seconds: number;
  /** What the start lost, seconds; `null` where the sound did not come back at all. */
  lostSeconds: number | null;
  slept: boolean;
}

/** One tone in place of silence. */
export interface KeepAliveTried {
  levelDbfs: number;
  seconds: number;
  held: boolean;
  lostSeconds: number | null;
  /** When the quiet tone itself was gone, half a second either way; `null` where it stayed, or noise covers it. */
  goneAfterSeconds: number | null;
}

/** Level at the tone's frequency over the last recording; not kept in a record. */
interface TurnOnCurve {
  purpose: TurnOnPurpose;
  everySeconds: number;
  levelsDbfs: (number | null)[];
}

export interface TurnOnState extends StationState {
  task: TurnOnTask;
  curve: TurnOnCurve | null;
  silences: SilenceTried[];
  keepAlive: KeepAliveTried[];
  /** Of the recordings that this stands on. */
  doubts: Doubt[];
  next: TurnOnPurpose | null;
  obstacle: string | null;
  /** Shortest silence after which a start was lost; `null` while none was. */
  sleepsWithinSeconds: number | null;
  /** Longest silence after which nothing was lost. */
  awakeForSeconds: number | null;
  /** Lowest level, of those tried, that held it awake. */
  holdingDbfs: number | null;
}

/** What accepting freezes. */
export interface TurnOnResult {
  step: number;
  toneHz: number;
  keepAliveHz: number;
  toneDbfs: number;
  silences: SilenceTried[];
  keepAlive: KeepAliveTried[];
  sleeps: boolean;
  sleepsWithinSeconds: number | null;
  awakeForSeconds: number | null;
  holdingDbfs: number | null;
  grade: Grade;
  doubts: Doubt[];
  findings: Finding[];
}
