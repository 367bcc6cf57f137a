import type { CodeFacts, HarmonicView } from '../clipping/harmonic-view.ts';
import { judgeClipping } from '../clipping/verdict.ts';
import { dbFromAmplitude, dbfsFromMeanSquare } from '../level/decibels.ts';
import type { ChannelReading, ToneReading } from '../reading.ts';

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
    clipping: judgeClipping(view, codes),
  };
}
