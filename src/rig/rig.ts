/**
 * The practice rig: a radio with volume steps and a ceiling, a line-output
 * converter, amplifiers with gain controls, loads and noise, as one pure
 * generator of samples. Same config, controls and seed: same samples, bit for bit.
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
  /** Peak volts at the unloaded amplifier's ceiling at the rated supply. */
  ceilingPeakVolts: number;
  loadOhms: number;
  /**
   * Resistance of output stage, supply and wires together, as seen at the
   * terminals: the load pulls the ceiling down by it. Below the ceiling the
   * amplifier's feedback holds the voltage, loaded or not.
   */
  outputOhms: number;
  noiseVolts: number;
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
  };
  converter: { gainDb: number; ceilingPeakVolts: number; noiseVolts: number };
  channels: RigChannelConfig[];
  input: {
    /** A full-scale sine at the simulated input is this many volts RMS at the measured point. */
    voltsPerFs: number;
    /** Converter's own noise up to half the sample rate, sine convention (AES17). */
    noiseDbfs: number;
    bits: 16 | 24;
  };
}

/** What the user turns on screen. */
export interface RigControls {
  /** 0 (silent) to `volumeSteps`. */
  volumeStep: number;
  /** 0 (fully down) to 1 (fully up) for each channel id; a channel left out is fully down. */
  gains: Record<string, number>;
  /** Channel whose terminals the input is connected to. */
  probe: string;
  loaded: boolean;
  /** Supply at the amplifiers; the rated one where left out. */
  supplyVolts?: number;
}

/** What the radio plays. */
export interface RigTone {
  kind: 'sine' | 'silence';
  frequencyHz: number;
  levelDbfs: number;
  channels: 'left' | 'right' | 'both';
}
