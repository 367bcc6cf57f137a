/**
 * What the one sound engine says of itself. The engine lives outside React:
 * `soundEngine` has `subscribe`, `getState`, and verbs; the screen only reads.
 */
import type { LiveReading } from '../../dsp/reading.ts';

/** Where samples come from. */
export type SourceChoice =
  | { kind: 'device'; deviceId: string | null }
  | { kind: 'file'; file: File; loop: boolean }
  | { kind: 'rig' };

export interface InputDevice {
  deviceId: string;
  label: string;
  groupId: string;
}

/** What was asked of the browser, and what it says it granted (which is intent, not fact). */
export interface Granted {
  label: string;
  sampleRateHz: number | null;
  contextRateHz: number;
  channelCount: number | null;
  echoCancellation: boolean | null;
  noiseSuppression: boolean | null;
  autoGainControl: boolean | null;
  voiceIsolation: boolean | null;
}

type EnginePhase = 'idle' | 'asking' | 'warming-up' | 'running' | 'paused' | 'stopped';

/** A stop that the user did not ask for: what happened, and how to go on. */
export interface Trouble {
  kind:
    | 'not-secure'
    | 'no-audio-in-this-browser'
    | 'permission-refused'
    | 'no-device'
    | 'device-busy'
    | 'unplugged'
    | 'suspended'
    | 'interrupted'
    | 'muted-by-system'
    | 'worklet-failed'
    | 'bad-file'
    | 'blocked-by-policy';
  sentence: string;
  goOn: string;
  /** Whether pressing "try again" can help. */
  canRetry: boolean;
}

export interface EngineState {
  phase: EnginePhase;
  source: SourceChoice | null;
  granted: Granted | null;
  devices: InputDevice[];
  outputs: InputDevice[];
  outputId: string | null;
  trouble: Trouble | null;
  /** What the player is playing, or `null`. */
  playing: { description: string; levelDbfs: number; channels: 'left' | 'right' | 'both' } | null;
  capturePath: 'worklet' | 'track-processor' | 'direct' | null;
  /** How often audio was lost since the start. */
  gaps: number;
  /** How often the tone jumped in phase: another tone began, or what was lost left no other trace. */
  jumps: number;
}

export type ReadingListener = (reading: LiveReading) => void;
