/**
 * The check by one track: a recording of the run track is found by its markers, cut into its parts, and each part is
 * read by the same readers as the stations' takes and judged for where the recorder was connected.
 */
import type { ExpectedFilter } from '../../dsp/time/expected-band.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { ChannelBand } from '../../plan/tone/setting-tone.ts';
import type { WantedSlope } from '../crossover/crossover.ts';
import type { Finding } from '../procedure.ts';

export type Side = 'left' | 'right' | 'both';

/** A part of the run track: what it plays, where, and for whom. As the manifest has it. */
export type RunPart = ToneSpec & {
  id: string;
  channels: Side;
  /** Ids of the job's channels; empty where it is for all. */
  serves: string[];
  /** From the start of the track. */
  startSeconds: number;
  durationSeconds: number;
  /** A low tone that plays under a silence. */
  keepAlive?: { frequencyHz: number; levelDbfs: number };
};

export interface RunPlan {
  /** Where the markers begin. */
  markers: { startSeconds: number; endSeconds: number };
  /** Least silence around each part. */
  guardSeconds: number;
  /** What of a steady part's beginning and end is not steady yet, or no longer. */
  marginSeconds: { start: number; end: number };
  parts: RunPart[];
}

/** A microphone in the cabin. */
interface CabinPoint {
  at: 'cabin';
}

/** A lead that is not connected: its channel is not read. */
interface UnusedPoint {
  at: 'none';
}

/** The terminals of one of the job's channels. */
export interface TerminalsPoint {
  at: 'terminals';
  channelId: string;
  name: string;
  fedBy: Side;
  /** `null` where no job says it. */
  wanted: { band: ChannelBand; slopes: { highPass: WantedSlope | null; lowPass: WantedSlope | null } } | null;
  /** Volts RMS that a tone at minus the overlap must reach, summing losses taken off; `null` where unknown. */
  targetVolts: number | null;
  overlapDb: number;
  toleranceDb: number;
  /** The channel that should play as loud. */
  partnerId: string | null;
}

export type CheckPoint = CabinPoint | UnusedPoint | TerminalsPoint;

/** What a channel may pass by air, each as likely as the others. */
interface HeardChannel {
  channelId: string;
  name: string;
  fedBy: Side;
  band: ChannelBand;
  bands: ExpectedFilter[][];
}

interface CheckLimits {
  cornerPercent: number;
  balanceDb: number;
  /** Least distance of the noise floor below the target level. */
  noiseDb: number;
}

export interface CheckTask {
  run: RunPlan;
  /** One for each channel of the recording. */
  points: CheckPoint[];
  /** All that a microphone may hear; empty where no job says it. */
  channels: HeardChannel[];
  /** Volts RMS of a full-scale sine at the measured point; `null` where unknown. */
  voltsPerFs: number | null;
  limits: CheckLimits;
}

/** Figures by name, the unit in the name; `null` for what could not be measured. */
export type CheckFigures = Record<string, unknown>;

/** `not-judged`: read, but nothing is known to hold it against. */
export type PartVerdict = 'passed' | 'failed' | 'not-judged' | 'missing';

export interface CheckedPart {
  id: string;
  kind: RunPart['kind'];
  /** The job's channel at whose terminals it was read, or `cabin`. */
  channel: string;
  /** Which channel of the recording, from 0. */
  recordedChannel: number;
  /** The job's channels that it is for. */
  serves: string[];
  /** False where it failed, or is not in the recording. */
  pass: boolean;
  verdict: PartVerdict;
  reading: CheckFigures;
  limits: CheckFigures;
  /** One sentence where it did not pass, or could not be judged; else empty. */
  why: string;
}

export interface CheckFault extends Finding {
  /** Of the job, or the words for a group of them; `cabin` where none is meant. */
  channel: string;
  /** Ids of the parts that show it. */
  parts: string[];
}

export interface CheckMarkers {
  /** One of them at least. */
  found: boolean;
  /** Where the start marker begins in the recording, or would, by the end marker or the tones; `null` where nothing tells. */
  startSeconds: number | null;
  /** Recorder against player; positive: more frames than the rate says. */
  clockSkewPpm: number | null;
  clockSkewUncertaintyPpm: number | null;
  startFound: boolean;
  endFound: boolean;
  skewFrom: 'markers' | 'tones' | null;
}

export interface CheckReport {
  markers: CheckMarkers;
  parts: CheckedPart[];
  /** Parts that the recording does not hold, by id. */
  missing: string[];
  faults: CheckFault[];
  pass: boolean;
}
