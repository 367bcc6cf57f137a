import type { ClippedSide, ClippingShape } from '../reading.ts';
import { findRounding, thirdCompresses } from './compression.ts';
import { type HarmonicRatios, harmonicRatios, upToOrder } from './harmonic-ratios.ts';
import type { HarmonicView } from './harmonic-view.ts';
import { kneeAmplitude } from './limited-sine.ts';
import { FIRST_HIGH_ORDER, findLimiter, type LimiterFinding } from './limiter-finding.ts';
import { reliableOrder } from './limiter-fit.ts';
import { matchPattern } from './pattern-match.ts';
import { smallestVisibleOverdrive } from './sensitivity.ts';
import * as say from './sentences.ts';
import { findShape, type ShapeFinding } from './shapes/find-shape.ts';

/** Harmonics from the 4th up that no ceiling explains and that are too small to matter: 0.1 %. */
const HARMLESS_CONTENT = 0.001;

/**
 * 2nd and 3rd harmonics in which no overdrive above 0.02 dB could hide (its 3rd is 0.013 %). Above it only
 * the 4th and up can say that there is no ceiling.
 */
const HIDING_CONTENT = 0.0001;

/** A soft ceiling is a limit from 1 % on, as its knee is (`impliedKnee`). */
const SOFT_CONTENT = 0.01;

/** `clean` is said only where this much overdrive (2 % THD) would have shown. */
const CLEAN_NEEDS_DB = 0.5;

/** Past this the harmonics are those of a square wave, and overdrive cannot be read from them. */
const MOST_READABLE_DB = 30;

export interface ShapeVerdict {
  verdict: 'clean' | 'clipped' | 'undecided';
  side: ClippedSide | null;
  shape: ClippingShape | null;
  overdriveDb: number | null;
  /** Fundamental against what it would be without the limit, dB, positive for a loss. */
  compressionDb: number | null;
  /** Peak of the largest sine that passes whole, full scale 1.0. */
  kneeAmplitude: number | null;
  evidence: string[];
}

const verdictOf = (verdict: 'clean' | 'undecided', ...evidence: string[]): ShapeVerdict => ({
  verdict,
  side: null,
  shape: null,
  overdriveDb: null,
  compressionDb: null,
  kneeAmplitude: null,
  evidence,
});

/**
 * What the shape of the wave says, codes left aside.
 *
 * `clipped`: a hard limit was found (`findLimiter`), or gradual limiting (`findRounding`, no figures).
 * `undecided`: there is distortion that could be a ceiling's or could not, or the reading could not have
 * shown half a decibel of overdrive (it is assumed that the path passes what lies below 16 kHz). `clean`: neither.
 *
 * Known limits. Smallest overdrive seen, 997 Hz, 8192 frames: 0.06 dB at 40 dB of signal against noise,
 * 0.02 dB from 60 dB on; several times less in a record of seconds. A symmetric limit needs its 5th
 * harmonic below 16 kHz (a tone up to 3.2 kHz), or up to the band's end where the path passes it. A
 * low-pass at or below some 5 kHz between limiter and input takes the evidence away: a 0.1 dB overdrive then
 * reads `clean` with 0.1 % of distortion, a larger one `undecided`; one at 10 kHz makes overdrive read up to
 * 15 % low. Room and driver phase by microphone do the same. A cubic bend, which makes a 3rd harmonic alone,
 * is `undecided`. A limit at the sample rate of a tone that divides it folds onto the harmonics themselves
 * (references 3.2) and shifts the overdrive: 0.012 dB at 0.05 dB, 2 % at 12 dB, with 3 kHz at 48 kHz.
 */
export function judgeShape(view: HarmonicView): ShapeVerdict {
  const ratios = harmonicRatios(view);
  if (ratios === null) return verdictOf('undecided', say.NO_TONE);
  const limiter = findLimiter(ratios);
  if (limiter?.exact) return hardLimit(limiter, view.amplitude, 'hard');
  const other = findShape(ratios);
  const leaning = other?.sure && other.family.shape !== 'soft' ? otherLimit(other, view.amplitude) : null;
  if (leaning !== null) return leaning;
  if (limiter !== null) return hardLimit(limiter, view.amplitude, other?.sure ? 'soft' : null);
  const rounded = findRounding(ratios);
  if (rounded !== null) return softLimit(rounded, other);
  if (other?.family.shape === 'soft' && matchPattern(ratios, 2).content >= SOFT_CONTENT) {
    return softLimit('both', other);
  }
  const without = withoutLimit(ratios);
  return other?.sure ? { ...without, shape: other.family.shape } : without;
}

function softLimit(side: ClippedSide, other: ShapeFinding | null): ShapeVerdict {
  const evidence = [say.ROUNDED_CRESTS[side], say.SOFT_LIMIT];
  const compressionDb = other?.sure ? -decibels(other.pattern.share) : null;
  return {
    verdict: 'clipped',
    side,
    shape: 'soft',
    overdriveDb: null,
    compressionDb,
    kneeAmplitude: null,
    evidence,
  };
}

/** A limit on slope or on current; `null` where it is too little to matter, or hides how far it is driven. */
function otherLimit(found: ShapeFinding, amplitude: number): ShapeVerdict | null {
  const overdriveDb = found.family.overdriveDb(found.parameters);
  if (overdriveDb === null) {
    return { ...verdictOf('undecided', say.TRIANGLE), shape: found.family.shape };
  }
  const { share } = found.pattern;
  const isSlew = found.family.shape === 'slew';
  return {
    verdict: 'clipped',
    side: isSlew ? null : 'both',
    shape: found.family.shape,
    overdriveDb,
    compressionDb: -decibels(share),
    kneeAmplitude: (amplitude / share) * 10 ** (-overdriveDb / 20),
    evidence: isSlew
      ? say.slewLimited(found.explained, overdriveDb)
      : say.currentLimited(found.explained, found.parameters[1]!),
  };
}

const decibels = (ratio: number) => 20 * Math.log10(ratio);

function hardLimit(limiter: LimiterFinding, amplitude: number, shape: ClippingShape | null): ShapeVerdict {
  const evidence = [say.flatCrests(limiter)];
  const readable = limiter.overdriveDb <= MOST_READABLE_DB;
  if (readable && !limiter.masked && limiter.crestDropDb > 0) evidence.push(say.crestDrop(limiter));
  evidence.push(say.highHarmonics(limiter), say.sideByHarmonics(limiter));
  if (limiter.masked) evidence.push(say.LOW_HARMONICS_MASKED);
  if (!readable) evidence.push(say.NEARLY_SQUARE);
  return {
    verdict: 'clipped',
    side: limiter.side,
    shape,
    compressionDb: readable ? decibels(limiter.wave.amplitude) : null,
    overdriveDb: readable ? limiter.overdriveDb : null,
    kneeAmplitude: amplitude * kneeAmplitude(limiter.wave),
    evidence,
  };
}

function withoutLimit(ratios: HarmonicRatios): ShapeVerdict {
  const high = matchPattern(ratios, FIRST_HIGH_ORDER);
  if (high.beyondNoise && high.content > HARMLESS_CONTENT) {
    return verdictOf('undecided', say.unexplained(high.content));
  }
  const all = matchPattern(ratios, 2);
  const lowOnly = all.beyondNoise && all.content > HIDING_CONTENT;
  const relied = upToOrder(ratios, reliableOrder(ratios));
  const visibleDb = smallestVisibleOverdrive(relied, lowOnly ? FIRST_HIGH_ORDER : 2);
  if (visibleDb === null || visibleDb > CLEAN_NEEDS_DB) {
    const few = relied.highestOrder < (lowOnly ? 5 : 3);
    return verdictOf('undecided', few ? say.tooFewHarmonics(relied.highestOrder - 1) : say.TOO_NOISY);
  }
  if (lowOnly && thirdCompresses(ratios)) {
    return { ...verdictOf('undecided', say.perhapsCompressed(Math.abs(ratios.cosine[1]!))), shape: 'soft' };
  }
  const whole = say.wholeWave(visibleDb);
  if (all.content <= HARMLESS_CONTENT) return verdictOf('clean', whole);
  return verdictOf('clean', say.otherDistortion(all.content, !high.beyondNoise), whole);
}
