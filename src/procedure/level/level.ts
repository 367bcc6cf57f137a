/**
 * Left against right, as a pure fold: by wire at the terminals, or by microphone at several places in the cabin.
 * What it comes to are trims that make each pair alike.
 */
import type { MicrophoneCurve } from '../../plan/calibration/microphone-curve.ts';
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { NoiseBand, PinkTakeRequest } from '../take/pink-take.ts';
import type { ToneTakeRequest } from '../take/tone-take.ts';

export interface LevelChannel {
  channelId: string;
  name: string;
  /** Tone that its level is read with by wire. */
  toneHz: number;
  toneDbfs: number;
  /** Noise that its level is read with by microphone. */
  band: NoiseBand;
  /** How far its gain record leaves it below its ceiling, dB; `null` where none is recorded, and then it is never raised. */
  roomDb: number | null;
}

export interface LevelPair {
  leftId: string;
  rightId: string;
}

/** Where the microphone stands. */
export interface LevelPlace {
  placeId: string;
  name: string;
  side: 'left' | 'right';
}

export interface LevelTask {
  way: 'wire' | 'microphone';
  channels: LevelChannel[];
  pairs: LevelPair[];
  /** Empty by wire. */
  places: LevelPlace[];
  /** Of the noise; plays no part by wire. */
  weighting: 'A' | 'C' | 'Z';
  /** How far the two of a pair may differ. */
  toleranceDb: number;
  /** A full-scale sine at the input is so many volts at the terminals; `null` without calibration. */
  voltsPerFs: number | null;
  /** What the microphone is known to deviate by; plays no part by wire, and none where left out. */
  microphone?: { file: string; curve: MicrophoneCurve };
}

/** What a take was made of. `placeId` is `null` by wire. */
export type LevelPurpose =
  | { what: 'ambient' }
  | { what: 'channel'; channelId: string; placeId: string | null };

export type LevelEvent =
  | TakeEvent<LevelPurpose, ToneTakeRequest | PinkTakeRequest>
  /** Volts typed from a multimeter, by wire. */
  | { type: 'volts'; channelId: string; volts: number }
  /** What is to be measured next, over again or out of turn. */
  | { type: 'choose'; channelId: string; placeId: string | null };

/** One usable reading. */
export interface LevelReading {
  channelId: string;
  placeId: string | null;
  /** `null` where volts were typed. */
  levelDbfs: number | null;
  volts: number | null;
  /** Standard uncertainty of the level against another one at the same input or meter. */
  uncertaintyDb: number;
  isSuspect: boolean;
}

/** One channel, over all its places. */
export interface ChannelLevel {
  channelId: string;
  /** Energy average over the places; `null` where volts were typed. */
  levelDbfs: number | null;
  volts: number | null;
  uncertaintyDb: number;
  /** Highest against lowest place; `null` for a single one. */
  spreadDb: number | null;
  places: { placeId: string; levelDbfs: number }[];
  roomDb: number | null;
  /** What it is to be turned up (positive) or down, dB; 0 where its partner is missing. */
  trimDb: number;
}

export interface PairDifference extends LevelPair {
  /** Left against right. */
  differenceDb: number;
  uncertaintyDb: number;
  inside: boolean;
}

export interface LevelState extends StationState {
  task: LevelTask;
  /** Everything usable, oldest first; of one channel and place the newest counts. */
  readings: LevelReading[];
  /** Cabin's own level in each of `ambientBands`; `null` until heard, and by wire. */
  ambientDbfs: (number | null)[] | null;
  /** Why the last recording does not count; `null` where it does. */
  refused: string | null;
  chosen: Extract<LevelPurpose, { what: 'channel' }> | null;
  /** What is to be recorded next; `null` where all is. */
  wanted: LevelPurpose | null;
  levels: ChannelLevel[];
  pairs: PairDifference[];
  /** Pair that differs most. */
  worst: PairDifference | null;
}

export interface LevelResult {
  way: 'wire' | 'microphone';
  weighting: 'A' | 'C' | 'Z' | null;
  /** Name of the calibration file whose deviations were taken out; left out where none was. */
  microphoneFile?: string;
  toleranceDb: number;
  channels: ChannelLevel[];
  pairs: PairDifference[];
  worstDifferenceDb: number | null;
  /** `null` where there is no pair to judge. */
  inside: boolean | null;
  findings: Finding[];
}

/** Bands of the task's noise, each once: what the cabin's own noise is heard in. */
export function ambientBands(task: LevelTask): NoiseBand[] {
  const bands = new Map(task.channels.map(({ band }) => [`${band.lowHz} ${band.highHz}`, band]));
  return [...bands.values()];
}
