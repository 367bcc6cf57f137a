import type { ClippedSide, Clipping } from '../reading.ts';
import { railOverloaded, railsOf, touchesFullScale } from './codes.ts';
import type { CodeFacts, HarmonicView } from './harmonic-view.ts';
import { beyondFullScaleButWhole, NO_TONE, stuckCodes } from './sentences.ts';
import { judgeShape, type ShapeVerdict } from './shape-verdict.ts';

/** A limit this near to full scale, with codes that touch it, is the converter's own. */
const OWN_KNEE = 0.95;

const NO_VIEW: ShapeVerdict = {
  verdict: 'undecided',
  side: null,
  shape: null,
  overdriveDb: null,
  compressionDb: null,
  kneeAmplitude: null,
  evidence: [NO_TONE],
};

/**
 * Says whether the wave is whole, clipped, or overloads our own input.
 *
 * The codes are asked first: more samples at full scale than a whole sine leaves there, or a limit found
 * in the harmonics that lies at full scale, are the input's own doing. Then the shape speaks
 * (`judgeShape`). A tone that touches full scale with its single highest sample is not an overload.
 *
 * @param view harmonics of the steady tone, or `null` where none stands out (then only codes are judged)
 * @param codes what the converter's codes did over the same stretch
 * @returns never throws; a view that holds NaN or no fundamental counts as none
 */
export function judgeClipping(view: HarmonicView | null, codes: CodeFacts): Clipping {
  const tone = view !== null && view.amplitude > 0 && view.frequencyHz > 0 ? view : null;
  const shape = tone === null ? NO_VIEW : judgeShape(tone);
  const rails = railsOf(codes);
  const overloads = (['positive', 'negative'] as const).filter((side) => {
    const rail = side === 'positive' ? rails.high : rails.low;
    if (railOverloaded(rail, tone)) return true;
    if (!touchesFullScale(rail)) return false;
    // Only a resampler behind a converter that lost its tops makes such values of a wave that is not whole.
    if (shape.verdict === 'undecided') return rail.peak > 1.001;
    return shape.verdict === 'clipped' && cuts(shape.side, side) && (shape.kneeAmplitude ?? 1) > OWN_KNEE;
  });
  const { verdict, evidence } = shape;
  const figures = {
    shape: shape.shape,
    overdriveDb: shape.overdriveDb,
    compressionDb: shape.compressionDb,
    kneeDbfs: shape.kneeAmplitude === null ? null : 20 * Math.log10(shape.kneeAmplitude),
    // Needs the noise and the fit, which whoever measured the view adds.
    uncertainty: null,
  };
  if (overloads.length > 0) {
    const spoken = overloads.map((side) => stuckCodes(side, side === 'positive' ? rails.high : rails.low));
    return {
      verdict: 'input-overload',
      side: overloads.length === 2 ? 'both' : overloads[0]!,
      ...figures,
      evidence: verdict === 'clipped' ? [...spoken, ...evidence] : spoken,
    };
  }
  const peak = Math.max(rails.high.peak, rails.low.peak);
  const beyond = verdict === 'clean' && peak > 1.001 ? [beyondFullScaleButWhole(peak)] : [];
  return { verdict, side: shape.side, ...figures, evidence: [...evidence, ...beyond] };
}

function cuts(side: ClippedSide | null, rail: 'positive' | 'negative'): boolean {
  return side === 'both' || side === rail;
}
