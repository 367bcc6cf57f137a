import type { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import type { CoarseTone } from '../fit/coarse-tone.ts';
import type { FittedTone } from '../fit/tone-fit.ts';

/** With fewer cycles than this, tone and drift of the zero line are not told apart. */
export const FEWEST_CYCLES = 3;

/** With fewer samples than this there is no spectrum to speak of. */
export const FEWEST_FRAMES = 64;

/** The strongest line must hold this share of the power; a square wave's fundamental holds 0.81. */
export const LEAST_SHARE = 0.15;

/** A tone stands out where it carries this many times the power of everything that is not a harmonic of it. */
const LEAST_RATIO = 2;

/** Where the tone's frequency is known beforehand, it may lie this far beneath the noise of the full bandwidth. */
const LEAST_RATIO_EXPECTED = 0.05;

export function strongEnoughToTry(coarse: CoarseTone, expectedHz: number | null): boolean {
  return expectedHz !== null || coarse.share >= LEAST_SHARE;
}

/** Whether the fundamental rises above the noise, both of the full bandwidth. */
export function standsOut(tone: FittedTone, spectrum: SegmentSpectrum, expectedHz: number | null): boolean {
  const power = (tone.amplitude * tone.amplitude) / 2;
  const ratio = expectedHz === null ? LEAST_RATIO : LEAST_RATIO_EXPECTED;
  return power > ratio * spectrum.noise.total();
}
