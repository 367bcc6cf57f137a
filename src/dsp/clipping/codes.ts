import type { CodeFacts, HarmonicView } from './harmonic-view.ts';

/**
 * A sample this close to +1.0 or -1.0 counts as an extreme code. Wider than one 16-bit step because a
 * resampler behind an overloaded converter ripples its flat tops by a little.
 */
export const NEAR_FULL_SCALE = 0.001;

/** Codes in a row at full scale that no single crest explains when the shape of the wave is not known. */
const RUN_OF_AN_OVERLOAD = 3;

/** 0.026 dB over: more than calibration-free arithmetic or dither could add to a sine of full scale. */
const LARGER_THAN_FULL_SCALE = 1.003;

/** How much of one polarity is stuck at the converter's end. */
export interface RailFacts {
  /** Highest magnitude towards this rail, full scale 1.0. */
  peak: number;
  longestRun: number;
  frames: number;
}

/** The two rails apart, each with its own sign taken out. */
export function railsOf(codes: CodeFacts): { high: RailFacts; low: RailFacts } {
  return {
    high: { peak: codes.highest, longestRun: codes.longestRunHigh, frames: codes.framesHigh },
    low: { peak: -codes.lowest, longestRun: codes.longestRunLow, frames: codes.framesLow },
  };
}

/** Whether this polarity reaches the extreme codes at all. */
export function touchesFullScale(rail: RailFacts): boolean {
  return rail.peak >= 1 - NEAR_FULL_SCALE;
}

/**
 * Whether a rail holds longer runs of extreme codes than a whole sine of the same peak would leave there.
 *
 * A sine that just touches full scale is near it for `acos((1 - NEAR_FULL_SCALE)/peak)/pi` of the time,
 * which at 20 Hz and 48 kHz is 34 samples in a row: a long run alone proves nothing. Where no tone is
 * known, three in a row count.
 */
export function railOverloaded(rail: RailFacts, view: HarmonicView | null): boolean {
  if (!touchesFullScale(rail)) return false;
  if (view === null) return rail.longestRun >= RUN_OF_AN_OVERLOAD;
  // A fundamental that is itself larger than full scale cannot have come through whole.
  if (rail.peak <= 1 && view.amplitude > LARGER_THAN_FULL_SCALE) return true;
  const framesPerPeriod = view.sampleRateHz / view.frequencyHz;
  const wholePeak = Math.max(rail.peak, 1);
  const crestFrames = (Math.acos((1 - NEAR_FULL_SCALE) / wholePeak) / Math.PI) * framesPerPeriod;
  const mostPerCrest = Math.floor(crestFrames) + 1;
  return rail.longestRun > 1.5 * mostPerCrest + 1;
}
