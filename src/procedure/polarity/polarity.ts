/** Which way round each driver is wired, as a pure fold: each plays alone while one train of pulses runs. */
import type { Finding, StationState, TakeEvent } from '../procedure.ts';
import type { PulseChannel } from '../pulses/pulse-channel.ts';
import type { HeardPulses, PulseTakeRequest } from '../take/pulse-take.ts';

export interface PolarityTask {
  channels: PulseChannel[];
  everySeconds: number;
}

interface PulsePurpose {
  channelId: string;
}

export type PolarityEvent =
  | TakeEvent<PulsePurpose, PulseTakeRequest>
  /** What is to be recorded next, over again or out of turn. */
  | { type: 'choose'; channelId: string };

type PolarityVerdict = 'normal' | 'reversed' | 'cannot-tell';

export interface ChannelPolarity {
  channelId: string;
  verdict: PolarityVerdict;
  /** As the input heard it, before the others were asked whether everything is turned over. */
  read: HeardPulses['polarity'];
  /** Chance that the likelier of the two ways is right, 0.5 to 1. */
  confidence: number;
  signalToNoiseDb: number;
}

export interface PolarityState extends StationState {
  task: PolarityTask;
  /** Newest usable one of each channel. */
  heard: Record<string, { pulses: HeardPulses; signalToNoiseDb: number; isSuspect: boolean }>;
  refused: string | null;
  chosen: string | null;
  /** Channel to be recorded next; `null` where all are. */
  wanted: string | null;
  channels: ChannelPolarity[];
  /** Whether most channels read upside down, so that the radio or the input must turn everything over. */
  turnedOver: boolean;
}

export interface PolarityResult {
  turnedOver: boolean;
  channels: ChannelPolarity[];
  /** `null` where a channel could not be told. */
  inside: boolean | null;
  findings: Finding[];
}
