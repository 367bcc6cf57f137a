/**
 * When each channel's sound arrives at the microphone, and by how much to delay the others so that all arrive with
 * the last, as a pure fold. The player keeps one train of pulses running and the recorder one stream: whatever plays
 * alone is then heard on one clock, and arrivals modulo the interval compare directly.
 */
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { PulseChannel } from '../pulses/pulse-channel.ts';
import type { HeardPulses, PulseTakeRequest } from '../take/pulse-take.ts';

export interface ArrivalTask {
  channels: PulseChannel[];
  everySeconds: number;
  toleranceMs: number;
}

export type ArrivalEvent =
  | TakeEvent<{ channelId: string }, PulseTakeRequest>
  | { type: 'choose'; channelId: string }
  /** The player begins the train anew: what came before is on another clock. */
  | { type: 'train' }
  /** Typed temperature of the air in the cabin, for what a delay is in centimetres. */
  | { type: 'air'; celsius: number };

/** One take of one channel. */
export interface ArrivalTake {
  channelId: string;
  sampleRateHz: number;
  startFrame: number;
  endFrame: number;
  pulses: HeardPulses;
  isSuspect: boolean;
}

export interface ChannelArrival {
  channelId: string;
  /** After the first of all to arrive. */
  arrivalMs: number;
  /** Standard uncertainty: band, cabin, noise and clock. */
  uncertaintyMs: number;
  /** So that it arrives with the last of all. */
  delayMs: number;
  delayCm: number;
  delayInches: number;
}

export interface ArrivalState extends StationState {
  task: ArrivalTask;
  airCelsius: number;
  /** What can be compared, oldest first: all on one unbroken stream. */
  takes: ArrivalTake[];
  /** Why what was taken before was just put aside; `null` from the next take on. */
  broken: string | null;
  refused: string | null;
  chosen: string | null;
  /** Channel to be recorded next: each once, then the first once more. `null` where that is done. */
  wanted: string | null;
  /** Recorder's clock against the player's, from all takes together. */
  skewPpm: number | null;
  skewUncertaintyPpm: number | null;
  arrivals: ChannelArrival[];
  /** Last against first. */
  worstMs: number | null;
}

export interface ArrivalResult {
  airCelsius: number;
  toleranceMs: number;
  skewPpm: number;
  skewUncertaintyPpm: number;
  channels: ChannelArrival[];
  latestId: string;
  worstDifferenceMs: number;
  /** Whether all arrive together as it is, so that nothing needs a delay. */
  inside: boolean;
  findings: Finding[];
}
