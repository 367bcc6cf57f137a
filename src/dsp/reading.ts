/**
 * What the analyser says of one stretch of samples: plain records, ready to be
 * posted between threads, stored, or printed.
 *
 * Levels follow AES17 3.12.1: a full-scale sine is 0 dBFS. Peaks are against
 * full scale 1.0. What could not be measured is `null`, never 0.
 */

/** One of several verdicts about the shape of the wave. `undecided` is an honest answer, not an error. */
export type ClippingVerdict = 'clean' | 'clipped' | 'input-overload' | 'undecided';

export type ClippedSide = 'both' | 'positive' | 'negative';

/**
 * What holds the wave back: a ceiling with a sharp corner, one that bends in gradually, a limit on how fast
 * the output can move, or a limit on the current of a load that is not a plain resistance.
 */
export type ClippingShape = 'hard' | 'soft' | 'slew' | 'current';

export interface Clipping {
  verdict: ClippingVerdict;
  /** Which crest is flattened; `null` unless clipped or overloaded. */
  side: ClippedSide | null;
  /**
   * `null` where the wave does not show it. Beside `undecided` it is what the wave hints at: a 3rd
   * harmonic alone that flattens both crests (`soft`), a triangle (`slew`).
   */
  shape: ClippingShape | null;
  /** How far an ideal limiter was driven past its ceiling, dB; turn back by this much. */
  overdriveDb: number | null;
  /**
   * How much less the fundamental is than it would be without the limit, dB: gain compression at this level.
   * `null` where the wave does not tell.
   */
  compressionDb: number | null;
  /** Level (dBFS, sine convention) of the largest clean sine this limiter passes. */
  kneeDbfs: number | null;
  /** Standard uncertainties (k = 1) of the two; `null` where they have no figure. */
  uncertainty: { overdriveDb: number; kneeDb: number } | null;
  /** One sentence for each kind of evidence that spoke, for the person at the screen. */
  evidence: string[];
}

/**
 * Standard uncertainties (k = 1) from noise and fit alone; calibration is added above this floor
 * (`dsp/uncertainty`).
 */
export interface ToneUncertainty {
  levelDb: number;
  frequencyHz: number;
  /** Percentage points, like the figure itself. */
  thdPercent: number;
  thdPlusNoisePercent: number;
  sinadDb: number;
  noiseDb: number;
  /** In the order of `harmonicsDbc`; where noise hides the harmonic, several decibels. */
  harmonicsDb: number[];
}

export interface ToneReading {
  frequencyHz: number;
  /** Level of the fundamental by sine fit. */
  levelDbfs: number;
  /** Phase of a cosine at the first frame of the measured stretch. */
  phaseRadians: number;
  /** Every harmonic inside the band, against the fundamental (F form). */
  thdPercent: number;
  /** All but the fundamental, in the band, against the total (AES17 6.3.1). */
  thdPlusNoisePercent: number;
  /** `-20 lg(thdPlusNoise)`. */
  sinadDb: number;
  /** Noise alone in the band (harmonics taken out), sine convention. */
  noiseDbfs: number;
  /** 2nd harmonic first, as far as the band holds them, at most `HARMONICS_LISTED`. */
  harmonicsDbc: number[];
  uncertainty: ToneUncertainty;
}

export interface ChannelReading {
  /** RMS of the whole signal, DC taken out. `null` for digital silence. */
  levelDbfs: number | null;
  samplePeakDbfs: number | null;
  truePeakDbtp: number | null;
  crestFactorDb: number | null;
  dcFullScale: number;
  /** `null` where no steady tone stands out. */
  tone: ToneReading | null;
  clipping: Clipping;
}

/** `valid` may be recorded; `suspect` may with a stated reason; `invalid` may not. */
export type Grade = 'valid' | 'suspect' | 'invalid';

/** Why a reading is not plainly `valid`. Kebab-case words, stable: they are also `data-state` on the page. */
export type Doubt =
  | 'warming-up'
  | 'gap'
  | 'phase-break'
  | 'digital-silence'
  | 'not-a-number'
  | 'input-overload'
  | 'level-unsteady'
  | 'rates-differ'
  | 'rate-unknown'
  | 'processing-on'
  | 'processing-unknown'
  | 'narrow-band'
  | 'page-hidden'
  | 'source-changed'
  | 'paused';

/** `dual-mono`: several channels, every sample of them alike. */
export type ChannelIdentity = 'mono' | 'dual-mono' | 'stereo';

export interface LiveReading {
  /** Frame number, in the source's own count, just past the measured window. */
  endFrame: number;
  windowFrames: number;
  sampleRateHz: number;
  grade: Grade;
  doubts: Doubt[];
  /** Whether the level held still across the window and since the last readings. */
  motion: 'steady' | 'changing';
  /** Whether the input's channels differ at all. */
  channelIdentity: ChannelIdentity;
  channels: ChannelReading[];
}

/** Stretch of spectrum, Hz, that distortion and noise are summed over. */
export interface Band {
  lowHz: number;
  highHz: number;
}

/** AES17-2015 5.2.5: 20 Hz to 20 kHz unless stated otherwise. */
export const AUDIO_BAND: Band = { lowHz: 20, highHz: 20_000 };
