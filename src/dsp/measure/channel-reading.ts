import type { CodeFacts, HarmonicView } from '../clipping/harmonic-view.ts';
import { judgeClipping } from '../clipping/verdict.ts';
import { dbFromAmplitude, dbfsFromMeanSquare } from '../level/decibels.ts';
import type { ChannelReading, Clipping, ToneReading } from '../reading.ts';
import { limiterUncertainty } from '../uncertainty/limiter-uncertainty.ts';

export interface Measured {
  /** DC out, full scale 1.0 squared. */
  meanSquare: number;
  dc: number;
  samplePeak: number;
  /** As the interpolator read it, full scale 1.0. */
  interpolatedPeak: number;
  codes: Readonly<CodeFacts>;
  tone: ToneReading | null;
  /** `null` where `tone` is. */
  view: HarmonicView | null;
  /** By how much what rests on the view's `sigma` must grow (`NoiseDensity.besideUncertaintyFactor`). */
  sigmaFactor: number;
}

/**
 * Levels as in `reading.ts`. Two choices of ours: the true peak is never below the highest sample (the
 * standard's interpolator alone can be, by up to 0.3 dB), and the crest factor is peak over total RMS
 * with DC left in both, so that a pulse train reads as in the textbooks.
 */
export function channelReading(measured: Measured): ChannelReading {
  const { meanSquare, dc, samplePeak, interpolatedPeak, codes, tone, view } = measured;
  const total = meanSquare + dc * dc;
  return {
    levelDbfs: dbfsFromMeanSquare(meanSquare),
    samplePeakDbfs: dbFromAmplitude(samplePeak),
    truePeakDbtp: dbFromAmplitude(Math.max(samplePeak, interpolatedPeak)),
    crestFactorDb: samplePeak > 0 ? 10 * Math.log10((samplePeak * samplePeak) / total) : null,
    dcFullScale: dc,
    tone,
    clipping: withUncertainty(judgeClipping(view, codes), measured),
  };
}

function withUncertainty(clipping: Clipping, { view, tone, sigmaFactor }: Measured): Clipping {
  const hard = (clipping.shape ?? 'hard') === 'hard';
  if (view === null || tone === null || !hard) return clipping;
  const uncertainty = limiterUncertainty(view, clipping, tone.uncertainty.levelDb, sigmaFactor);
  return { ...clipping, uncertainty };
}
