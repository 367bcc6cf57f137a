/**
 * The practice rig: a radio with volume steps and a ceiling, a line-output
 * converter, amplifiers with gain controls, loads and noise, as one pure
 * generator of samples. Same config, controls and seed: same samples, bit for bit.
 */

export interface RigChannelConfig {
  id: string;
  /** Which radio outputs reach it, and how strongly. */
  fedBy: 'left' | 'right' | 'both';
  /** Amplifier's voltage gain at the control's lowest and highest setting, dB. */
  lowestGainDb: number;
  highestGainDb: number;
  /** Peak volts at the unloaded amplifier's ceiling at the rated supply. */
  ceilingPeakVolts: number;
  loadOhms: number;
  /** Output resistance of amplifier and wire; the load sags the ceiling by it. */
  outputOhms: number;
  noiseVolts: number;
}

export interface RigConfig {
  sampleRateHz: number;
  seed: number;
  radio: {
    volumeSteps: number;
    /** dB between two volume steps. */
    stepDb: number;
    /** Volts RMS of a full-scale sine at the highest step, were there no ceiling. */
    fullScaleVolts: number;
    ceilingPeakVolts: number;
    noiseVolts: number;
  };
  converter: { gainDb: number; ceilingPeakVolts: number; noiseVolts: number };
  channels: RigChannelConfig[];
  input: {
    /** A full-scale sine at the simulated input is this many volts RMS at the measured point. */
    voltsPerFs: number;
    noiseDbfs: number;
    bits: 16 | 24;
  };
}

/** What the user turns on screen. */
export interface RigControls {
  volumeStep: number;
  /** 0 (fully down) to 1 (fully up) for each channel id. */
  gains: Record<string, number>;
  /** Channel whose terminals the input is connected to. */
  probe: string;
  loaded: boolean;
}

/** What the radio plays. */
export interface RigTone {
  kind: 'sine' | 'silence';
  frequencyHz: number;
  levelDbfs: number;
  channels: 'left' | 'right' | 'both';
}

/** Commands from the page to the Worker that runs the rig. */
export type RigCommand =
  | { type: 'start'; config: RigConfig; controls: RigControls; tone: RigTone; port: MessagePortLike }
  | { type: 'controls'; controls: RigControls }
  | { type: 'tone'; tone: RigTone }
  | { type: 'pause' }
  | { type: 'resume' }
  | { type: 'stop' };

/** A MessagePort, named without the DOM's types. */
export interface MessagePortLike {
  postMessage(message: unknown, transfer?: unknown[]): void;
}
