import type { ToneSpec } from '../../dsp/tones/spec.ts';

export type OutputChannels = 'left' | 'right' | 'both';

export interface PlayRequest {
  spec: ToneSpec;
  channels: OutputChannels;
  /** For the person at the screen: "997 Hz at -5 dBFS". */
  description: string;
  /** The user has read what a tone above `highestLevelDbfs` can do, and wants it. */
  loudConfirmed?: boolean;
  /** Takes the place of the player's own limit for this tone. */
  limitSeconds?: number;
  /** A burst at full level: a second at most, and refused until ten times its length after the one before. */
  burst?: boolean;
}

export interface Playing {
  description: string;
  /** Loudest part of the tone; minus infinity for silence. */
  levelDbfs: number;
  channels: OutputChannels;
  /** Of a sine, exactly as played; `null` for other kinds. */
  actualHz: number | null;
  /** When it will fade out by itself, seconds after its start. */
  lastsSeconds: number;
}

/** Why a tone came to its end. All but `asked` and `finished` deserve to be shown. */
export type EndedBecause =
  | 'asked'
  | 'finished'
  | 'time-limit'
  | 'devices-changed'
  | 'interrupted'
  | 'another-tone';

export interface PlayerState {
  phase: 'silent' | 'starting' | 'playing' | 'stopping';
  playing: Playing | null;
  /** How the tone before ended; `null` before the first. */
  ended: EndedBecause | null;
  /** `null` for whatever the system plays through. */
  outputId: string | null;
}
