import { type Companions, removeLeakage } from './companions.ts';
import { dirichlet, dirichletSlope } from './dirichlet.ts';
import { emptyLineSums, type LineSums, type ToneBlocks } from './tone-blocks.ts';

/** `x = Re((re + j im) exp(j w u))`, `u` frames from `centreFrame`. */
export interface FittedTone {
  /** Radians per frame. */
  angularFrequency: number;
  /** Peak, full scale 1.0. */
  amplitude: number;
  re: number;
  im: number;
  frames: number;
  centreFrame: number;
}

const MOST_STEPS = 12;

/** Steps stop where the frequency moves by less than this many radians over the record. */
const STILL = 1e-11;

/** A fit that walks further than this many bins from where it began has lost the line. */
const FURTHEST_BINS = 2;

/**
 * Complex amplitude of a real line from its sums: the image at the negative frequency is part of the
 * same line, so both unknowns come from one 2 by 2 system, which is diagonal about the centre.
 */
export function amplitudeFromSums(sums: LineSums, angularFrequency: number): { re: number; im: number } {
  const image = dirichlet(sums.frames, 2 * angularFrequency);
  return { re: (2 * sums.re) / (sums.frames + image), im: (2 * sums.im) / (sums.frames - image) };
}

/**
 * Least-squares fit of one tone (amplitude, phase, frequency) over a run of blocks: the four-parameter
 * fit of IEEE Std 1057 by Gauss-Newton on the frequency (P. Handel, IEEE Trans. IM 49(6) 2000), with DC
 * and harmonics taken out as `companions`. In white noise it reaches the Cramer-Rao bound.
 *
 * @param startAt radians per frame, within half a bin of the tone
 * @param companions what else is in the record, or `null` where nothing is known yet
 * @returns `null` where the fit walks away: there is no line there
 */
export function fitTone(
  blocks: ToneBlocks,
  first: number,
  last: number,
  startAt: number,
  companions: Companions | null,
): FittedTone | null {
  const sums = emptyLineSums();
  let w = startAt;
  let phase: number | null = null;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    blocks.sums(w, first, last, sums);
    const { frames } = sums;
    if (companions !== null) {
      if (phase === null) phase = phaseOf(sums, w, companions.dc);
      removeLeakage(sums, w, phase, companions, 1);
    }
    const { re, im } = amplitudeFromSums(sums, w);
    phase = Math.atan2(im, re);
    const move = frequencyStep(sums, w, re, im);
    if (!Number.isFinite(move)) return null;
    if (Math.abs(move) * frames < STILL || step === MOST_STEPS - 1) {
      return {
        angularFrequency: w,
        amplitude: Math.hypot(re, im),
        re,
        im,
        frames,
        centreFrame: sums.centreFrame,
      };
    }
    w += move;
    if (Math.abs(w - startAt) * frames > 2 * Math.PI * FURTHEST_BINS) return null;
  }
  return null;
}

/** Phase at the centre before the harmonics are out: they need it themselves. */
function phaseOf(sums: LineSums, w: number, dc: number): number {
  const { re, im } = amplitudeFromSums({ ...sums, re: sums.re - dc * dirichlet(sums.frames, w) }, w);
  return Math.atan2(im, re);
}

/** Gauss-Newton step: projection of the residual onto the derivative by frequency, over that column's norm. */
function frequencyStep(sums: LineSums, w: number, re: number, im: number): number {
  const { frames } = sums;
  const slope = dirichletSlope(frames, 2 * w) / 2;
  const residualRe = sums.slopeRe - im * slope;
  const residualIm = sums.slopeIm - re * slope;
  const norm = ((re * re + im * im) * frames * (frames * frames - 1)) / 24;
  return (re * residualIm - im * residualRe) / norm;
}

/** Standard uncertainties that noise leaves at least. */
export interface ToneBound {
  /** Of the amplitude, against it. */
  relativeAmplitude: number;
  /** Radians per frame. */
  angularFrequency: number;
}

/** Cramer-Rao bounds of a real tone in white noise: references, item 11 (Rife and Boorstyn 1974; Kay 1993, 3.14). */
export function cramerRao(amplitude: number, noiseVariance: number, frames: number): ToneBound {
  const ratio = (amplitude * amplitude) / (2 * noiseVariance);
  return {
    relativeAmplitude: Math.sqrt((2 * noiseVariance) / frames) / amplitude,
    angularFrequency: Math.sqrt(12 / (ratio * frames * (frames * frames - 1))),
  };
}
