import type { RunSound } from '../dsp/tones/run-sound.ts';
import type { ToneSpec } from '../dsp/tones/spec.ts';
import type {
  RigAutomaticGain,
  RigBassCut,
  RigCabin,
  RigDriver,
  RigEngine,
  RigFilter,
  RigMains,
  RigSleep,
  RigSupplyPath,
  RigUnloaded,
} from './rig-parts.ts';

/**
 * The practice rig: a radio with volume steps and a ceiling, a line-output
 * converter, amplifiers with filters and gain controls, loads, an engine, a
 * cabin and noise, as one pure generator of samples. Same config, controls and
 * seed, changed in the same frames: same samples, bit for bit.
 *
 * Noise is white at its stage; `noiseVolts` is its RMS in a 20 kHz band.
 */

export interface RigChannelConfig {
  id: string;
  /** Which radio outputs reach it; `both` are summed at the amplifier's input. */
  fedBy: 'left' | 'right' | 'both';
  /** Amplifier's voltage gain at the control's lowest and highest setting, dB. */
  lowestGainDb: number;
  highestGainDb: number;
  /** Ahead of the gain control; `null` where there is none. */
  filters: { highPass: RigFilter | null; lowPass: RigFilter | null };
  /** Which way up the channel's output wires are. */
  polarity: 1 | -1;
  /** On top of the gain control. */
  levelTrimDb: number;
  /** On top of the way through the air. */
  delayMs: number;
  /** Peak volts at the unloaded amplifier's ceiling at the rated supply. */
  ceilingPeakVolts: number;
  loadOhms: number;
  /**
   * Resistance of output stage, supply and wires together, as seen at the
   * terminals: the load pulls the ceiling down by it. Below the ceiling the
   * amplifier's feedback holds the voltage, loaded or not.
   */
  outputOhms: number;
  /** Power into the load for each watt drawn from the supply. */
  efficiency: number;
  noiseVolts: number;
  driver: RigDriver;
}

export interface RigConfig {
  sampleRateHz: number;
  seed: number;
  /** Supply at which the amplifiers' ceilings are stated; 14.4 V (CTA-2006) where left out. */
  ratedSupplyVolts?: number;
  radio: {
    volumeSteps: number;
    /** dB between two volume steps; step 0 is silent. */
    stepDb: number;
    /** Volts RMS of a full-scale sine at the highest step, were there no ceiling. */
    fullScaleVolts: number;
    ceilingPeakVolts: number;
    /**
     * Half width of the bend at the ceiling, as a share of it: the output
     * leaves the straight line at `1 - softness` and is flat from
     * `1 + softness` on. 0, the value where left out, is a sharp corner.
     */
    softness?: number;
    noiseVolts: number;
    bassCut: RigBassCut | null;
    unloaded: RigUnloaded | null;
  };
  converter: { gainDb: number; ceilingPeakVolts: number; noiseVolts: number; sleep: RigSleep | null };
  channels: RigChannelConfig[];
  engine: RigEngine;
  mains: RigMains;
  supplyPath: RigSupplyPath;
  cabin: RigCabin;
  input: {
    /** A full-scale sine at the simulated input is this many volts RMS at the measured point. */
    voltsPerFs: number;
    /** Converter's own noise up to half the sample rate, sine convention (AES17). */
    noiseDbfs: number;
    bits: 16 | 24;
    automaticGain: RigAutomaticGain | null;
  };
  /** How the controls stand when somebody first comes to this vehicle, where that differs from a healthy one. */
  asFound: { gains: Record<string, number>; loadResistors: boolean };
}

/** Points of the chain, besides a channel's terminals, to which the input may be connected. */
export const RIG_POINTS = [
  'radio-left',
  'radio-right',
  'converter-left',
  'converter-right',
  'cabin',
] as const;

export type RigPoint = (typeof RIG_POINTS)[number];

/** What the user turns on screen. */
export interface RigControls {
  /** 0 (silent) to `volumeSteps`. */
  volumeStep: number;
  /** 0 (fully down) to 1 (fully up) for each channel id; a channel left out is fully down. */
  gains: Record<string, number>;
  /** Channel whose terminals the input is connected to, or one of `RIG_POINTS`; `cabin` is a microphone. */
  probe: string;
  loaded: boolean;
  /**
   * Supply at the amplifiers, held by a charger; the rated one where left out.
   * Where `engine` is given the vehicle supplies itself and this is ignored.
   */
  supplyVolts?: number;
  /** Left out: off, the supply held by a charger. */
  engine?: 'off' | 'idle' | 'revved' | undefined;
  /** Whether the radio sees the load that it expects; true where left out. */
  loadResistors?: boolean;
  /** Channels whose amplifier input is unplugged. */
  muted?: readonly string[];
  /** Whether the amplifiers' filters are bypassed. */
  filtersOff?: boolean;
  /** Where the microphone stands: index into the cabin's positions, the first where left out. */
  position?: number;
}

/** A sine for as long as it is wanted, or nothing. */
export interface RigSineTone {
  kind: 'sine' | 'silence';
  frequencyHz: number;
  levelDbfs: number;
  channels: 'left' | 'right' | 'both';
}

/**
 * Any tone of the tone set, played from a stick: once, silence after it, or
 * over and over. A loop lasts as many frames as the tone, exactly, and has the
 * tone's own fades at its seam; a sine runs through without any.
 */
export interface RigTrackTone {
  kind: 'track';
  spec: ToneSpec;
  channels: 'left' | 'right' | 'both';
  loop: boolean;
}

/** The one long track that checks a vehicle, played from a stick: once, silence after it. */
interface RigRunTone {
  kind: 'run';
  run: RunSound;
}

/** What the radio plays. */
export type RigTone = RigSineTone | RigTrackTone | RigRunTone;
