import type { Alignment } from '../dsp/filters/prototype.ts';

/** One filter of an amplifier channel; what its corner means depends on the alignment (`src/dsp/filters/prototype.ts`). */
export interface RigFilter {
  alignment: Alignment;
  order: number;
  cutoffHz: number;
}

/** Metres in the cabin: to the right, to the front and up from its middle at ear height. */
export interface RigPlace {
  rightM: number;
  frontM: number;
  upM: number;
}

/** What a channel's drivers do with its voltage. */
export interface RigDriver {
  /** Second-order roll-off below: resonance in its enclosure, and quality there. */
  resonanceHz: number;
  quality: number;
  /** Second-order Butterworth roll-off above. */
  upperHz: number;
  /** Sound pressure level on axis at 1 m for 2.83 V, dB. */
  sensitivityDb: number;
  place: RigPlace;
}

/** The radio takes bass away as it goes up: a shelf of first order. */
export interface RigBassCut {
  /** Highest step that is still untouched. */
  fromStep: number;
  dbPerStep: number;
  deepestDb: number;
  cornerHz: number;
}

/** What the radio does where it finds no load at its speaker outputs. */
export interface RigUnloaded {
  /** Loss over the whole band, dB. */
  lossDb: number;
  /** Further loss below `cornerHz`, a shelf of first order, dB. */
  bassLossDb: number;
  cornerHz: number;
}

/** A converter that turns itself off while it senses no signal. */
export interface RigSleep {
  /** Peak volts at its input that count as signal. */
  thresholdPeakVolts: number;
  afterSeconds: number;
  /** From the first signal to the first sound. */
  wakeSeconds: number;
}

/** Lines of a comb: the fundamental and what stands above it. */
interface RigComb {
  /** Fundamental at the amplifiers' inputs, volts RMS; 0 where there is none. */
  volts: number;
  /** 2nd harmonic first, dB against the fundamental. */
  harmonicsDb: readonly number[];
}

/** The engine, and what its alternator adds at the amplifiers' inputs. */
export interface RigEngine {
  idleRpm: number;
  revvedRpm: number;
  /**
   * Crests of rectified voltage in one turn of the engine: 6 for each pair of
   * poles (three phases, both half waves), times the pulleys' ratio.
   */
  ripplesPerTurn: number;
  whine: RigComb;
}

export interface RigMains extends RigComb {
  frequencyHz: number;
}

/** Direct current from the battery to the amplifiers and back. */
export interface RigSupplyPath {
  batteryVolts: number;
  chargingVolts: number;
  /** Battery plus to the amplifiers' plus terminals: wire, fuse, terminals. */
  plusLegOhms: number;
  /** The amplifiers' ground terminals to the battery's minus: wire, body, strap. */
  groundLegOhms: number;
  /**
   * Of both legs, what the channels' `outputOhms` already hold. What is above
   * it pulls the ceilings down further as current flows.
   */
  countedOhms: number;
  /** Current of all amplifiers on and playing nothing, A. */
  idleAmperes: number;
}

export interface RigCabin {
  /** Inner half length of the cabin to each side of its middle. */
  halfSize: RigPlace;
  /** Share of pressure that a surface gives back. */
  reflection: number;
  /** Where the microphone may stand: front left, front right, rear left, rear right. */
  positions: readonly RigPlace[];
  airCelsius: number;
  /** Sound pressure level of a sine that fills the microphone input's scale, dB. */
  fullScaleSplDb: number;
  /** Noise of the microphone itself, and of the place around the vehicle, dB sound pressure level in 20 kHz. */
  microphoneNoiseSplDb: number;
  ambientSplDb: number;
  /** The same while the engine runs. */
  engineSplDb: number;
}

/** An input that turns itself up and down. */
export interface RigAutomaticGain {
  /** Level that it draws everything to, dBFS. */
  towardDbfs: number;
  /** Share of the distance that it takes away, 0 to 1. */
  share: number;
  /** Farthest that it turns either way, dB, and how fast, dB per second. */
  farthestDb: number;
  dbPerSecond: number;
}
